package dangers

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

const (
	seenField  = "seen"
	wordsField = "words"
	inField    = "in"
)

// recording asks what is seen and how much went in.
func (s *screen) recording(d procedure.Danger) flow.Part {
	to, a := needle.TargetOf(s.Stand.Visit, s.to.From, s.to.Number), flow.Blank()
	var seen []exam.Choice
	for i, text := range d.Seen {
		seen = append(seen, exam.Choice{Key: fmt.Sprint(i), Words: text})
	}
	if to.DrawnML > 0 {
		a.Put(inField, volume.Plain(to.DrawnML))
	}
	fields := []needle.Field{
		{Key: seenField, Label: "seen", Choices: seen, Many: true},
		{Key: wordsField, Label: "in words", Limit: 160, Check: func(text string) error {
			if text == "" && a.Get(seenField) == "" {
				return &exam.Refusal{Why: "mark what is seen with space, or say it in a few words"}
			}
			return nil
		}},
		{Key: inField, Label: to.Asks, Limit: 20, Check: needle.CheckAmount, Hidden: func() bool { return to.Asks == "" }, Hint: func(string) string {
			return "in mL, 0 for nothing; or: " + needle.NotKnown
		}},
	}
	head := func(width int) []string {
		return []string{s.Deps.Theme.Alarm.Render(layout.Cut(d.Title, width)), layout.Cut(d.First[0], width)}
	}
	sheet := flow.NewSheet(s.Screen, "write it down", "write it down", a, fields, head, func() tea.Cmd {
		ml, known := needle.ReadAmount(a.Get(inField))
		s.chosen, s.said, s.before = d, s.seen(d, a), s.Stand.Visit.Entries
		return s.Write(to.Entry(d, s.said, ml, known))
	})
	return &back{sheet, s}
}

// seen are the marked signs and the words.
func (s *screen) seen(d procedure.Danger, a flow.Answers) string {
	var parts []string
	for i, text := range d.Seen {
		for _, key := range strings.Split(a.Get(seenField), ",") {
			if key == fmt.Sprint(i) {
				parts = append(parts, text)
			}
		}
	}
	if words := a.Get(wordsField); words != "" {
		parts = append(parts, words)
	}
	return strings.Join(parts, ", ")
}

// back is the form from which esc goes back to the list.
type back struct {
	*flow.Sheet
	s *screen
}

// Escape shows the list.
func (b *back) Escape() bool {
	b.s.chosen = procedure.Danger{}
	b.s.Show(&signs{s: b.s})
	return true
}

// told is what is read out to the veterinarian, once it is written down.
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
	if keys.Accept().Is(p) {
		return nav.Back()
	}
	return nil
}

// Keys are enter.
func (x *told) Keys() []keys.Binding {
	return []keys.Binding{keys.Accept().With("go on", "go back to the procedure")}
}

// Typing is never true.
func (x *told) Typing() bool { return false }

// Escape goes back.
func (x *told) Escape() bool { return false }
