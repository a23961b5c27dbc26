package dangers

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// seeing asks what is seen of a sign: the letter of a line marks it, and enter goes
// on. A letter pressed twice leaves its mark, so that no key answers two things.
type seeing struct {
	s    *screen
	d    procedure.Danger
	seen []bool
	last []int // the lines in the order in which they were marked
}

// Lines is what to do first, and what may be seen. Where the window is too low for
// both, the end of what to do first is cut: it comes again once this is saved.
func (g *seeing) Lines(size layout.Size) []string {
	t := g.s.Deps.Theme
	tail := []string{t.Strong.Render("What is seen?")}
	for i, text := range g.d.Seen {
		sign := t.Sign.Left
		if g.seen[i] {
			sign = t.Sign.Done
		}
		tail = append(tail, layout.Cut(fmt.Sprintf("  %s [%s] %s", sign, needle.SeenLetter(i), text), size.W))
	}
	tail = append(tail, layout.Cut(fmt.Sprintf("  %s [%s] in your own words", t.Sign.Left, needle.OwnWords), size.W))
	head := []string{t.Alarm.Render(layout.Cut(g.d.Title, size.W))}
	for i, first := range g.d.First {
		head = append(head, set(fmt.Sprintf("%d ", i+1), first, size.W)...)
	}
	if len(head)+1+len(tail) <= size.H {
		return append(append(head, ""), tail...)
	}
	return append(head[:min(max(size.H-len(tail), 1), len(head))], tail...)
}

// Press marks a line, takes the last mark back, or goes on.
func (g *seeing) Press(p keys.Press) tea.Cmd {
	for i := range g.seen {
		if keys.Letter(needle.SeenLetter(i), "", "").Is(p) {
			if !g.seen[i] {
				g.seen[i], g.last = true, append(g.last, i)
			}
			return nil
		}
	}
	n := len(g.last)
	switch {
	case keys.Letter(needle.OwnWords, "", "").Is(p):
		g.s.Show(g.words())
	case keys.TakeBack().Is(p) && n > 0:
		g.seen[g.last[n-1]], g.last = false, g.last[:n-1]
	case keys.Accept().Is(p) && n == 0:
		g.s.Say("Enter alone is no answer. Press the letter of what you see.")
	case keys.Accept().Is(p):
		return g.s.amount(g, g.said(""))
	}
	return nil
}

// said is what is seen, in words: the marked lines, and those of one's own.
func (g *seeing) said(own string) string {
	var parts []string
	for i, text := range g.d.Seen {
		if g.seen[i] {
			parts = append(parts, text)
		}
	}
	if own != "" {
		parts = append(parts, own)
	}
	return strings.Join(parts, ", ")
}

// words asks for what no line says.
func (g *seeing) words() flow.Part {
	a := flow.Blank()
	fields := []needle.Field{{Key: wordsField, Label: "seen", Limit: 160, Check: func(text string) error {
		if text == "" {
			return &exam.Refusal{Why: "say what is seen in a few words"}
		}
		return nil
	}}}
	head := func(width int) []string {
		return append([]string{g.s.Deps.Theme.Alarm.Render(layout.Cut(g.d.Title, width))}, layout.Wrap(g.said(""), width)...)
	}
	sheet := flow.NewSheet(g.s.Screen, "go on", "go on", a, fields, head, func() tea.Cmd { return g.s.amount(g, g.said(a.Get(wordsField))) })
	return flow.BackTo(sheet, g.s.Screen, func() flow.Part { return g })
}

// Keys are the letters of the lines, and enter once one is marked.
func (g *seeing) Keys() []keys.Binding {
	letters := make([]string, len(g.seen), len(g.seen)+1)
	for i := range g.seen {
		letters[i] = needle.SeenLetter(i)
	}
	mark := keys.Letter("", "mark", "mark what you see; several may be marked")
	mark.Keys, mark.Label = letters, strings.Join(letters, " ")
	on := keys.Accept().With("go on", "go on to how much went in, or write it down where that is not asked")
	if len(g.last) == 0 {
		on = on.OffIf("nothing is marked yet")
	}
	return []keys.Binding{mark, keys.Letter(needle.OwnWords, "own words", "say what you see in your own words"), on, keys.TakeBack().With("unmark", "take the last mark back")}
}

// Typing is never true.
func (g *seeing) Typing() bool { return false }

// Escape shows the list of the signs.
func (g *seeing) Escape() bool {
	g.s.Show(&signs{s: g.s})
	return true
}
