package dangers

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

const wordsField = "words"

// amount asks how much went in, or was drawn, where that is asked, and writes the
// sign down.
func (s *screen) amount(g *seeing, said string) tea.Cmd {
	to := needle.TargetOf(s.Stand.Visit, s.to.From, s.to.Number)
	write := func(_ string, ml float64, known bool) tea.Cmd {
		return s.record(g.d, said, to.Entry(g.d, said, ml, known))
	}
	if to.Asks == "" {
		return write("", 0, true)
	}
	s.Show(flow.Stop{
		S: s.Screen, Why: g.d.Title + ": " + said, Amount: to.Asks, HoldsML: to.DrawnML, Done: write, Back: func() flow.Part { return g },
	}.Begin())
	return nil
}

// record writes the sign down; the screen reads it out once it is stored.
func (s *screen) record(d procedure.Danger, said string, e exam.Entry) tea.Cmd {
	s.where = needle.TargetOf(s.Stand.Visit, s.to.From, s.to.Number).Words
	s.chosen, s.said, s.before = d, said, s.Stand.Visit.Entries
	return s.Write(e)
}

// told is what is read out to the veterinarian, once it is written down. Enter does
// not close it: the answer before it may have ended with enter.
type told struct{ s *screen }

// Lines is who, when, what, how much.
func (x *told) Lines(size layout.Size) []string {
	t, s := x.s.Deps.Theme, x.s
	lines := []string{t.Strong.Render("It is written down. Read this out to the veterinarian:"), ""}
	for _, text := range needle.ReadOut(s.Stand, s.to.From, s.to.Number, s.chosen.Title+": "+s.said, s.Deps.Now()) {
		lines = append(lines, layout.Wrap(exam.CleanNote(text), size.W)...)
	}
	lines = append(lines, "")
	for i, first := range s.chosen.First {
		lines = append(lines, set(fmt.Sprintf("%d ", i+1), first, size.W)...)
	}
	return lines
}

// Press goes back to the procedure.
func (x *told) Press(p keys.Press) tea.Cmd {
	switch {
	case x.done().Is(p):
		return nav.Back()
	case keys.Accept().Is(p):
		x.s.Say("Press " + needle.ReadOutDone + " once it is read out.")
	}
	return nil
}

func (x *told) done() keys.Binding {
	return keys.Letter(needle.ReadOutDone, "was read out", "it was read out: go back to the procedure")
}

// Keys are the letter that goes back.
func (x *told) Keys() []keys.Binding { return []keys.Binding{x.done()} }

// Typing is never true.
func (x *told) Typing() bool { return false }

// Escape goes back.
func (x *told) Escape() bool { return false }
