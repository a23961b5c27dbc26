package questions

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// marks asks which of a few lines are seen: the letter of a line marks it, and enter
// goes on. A letter pressed twice leaves its mark, so that no key answers two things.
type marks struct {
	silent
	s    *Screen
	q    *script.Question
	seen []bool
	last []int // the lines in the order in which they were marked
}

// Lines is the head, and what may be seen. Where the window is too low for both, the
// end of the head is cut.
func (g *marks) Lines(size layout.Size) []string {
	t := g.s.Deps.Theme
	tail := []string{t.Strong.Render(g.q.Marks.Asks)}
	for i, text := range g.q.Marks.Lines {
		sign := t.Sign.Left
		if g.seen[i] {
			sign = t.Sign.Done
		}
		tail = append(tail, layout.Cut(fmt.Sprintf("  %s [%s] %s", sign, script.SeenLetter(i), text), size.W))
	}
	tail = append(tail, layout.Cut(fmt.Sprintf("  %s [%s] in your own words", t.Sign.Left, script.OwnWords), size.W))
	head := g.s.texts(g.q.Head, size.W)
	if len(head)+1+len(tail) <= size.H {
		return append(append(head, ""), tail...)
	}
	return append(head[:min(max(size.H-len(tail), 1), len(head))], tail...)
}

// Press marks a line, takes the last mark back, or goes on.
func (g *marks) Press(p keys.Press) tea.Cmd {
	for i := range g.seen {
		if keys.Letter(script.SeenLetter(i), "", "").Is(p) {
			if !g.seen[i] {
				g.seen[i], g.last = true, append(g.last, i)
			}
			return nil
		}
	}
	n := len(g.last)
	switch {
	case keys.Letter(script.OwnWords, "", "").Is(p):
		g.s.show(g.q.Marks.Own(g.marked()))
	case keys.TakeBack().Is(p) && n > 0:
		g.seen[g.last[n-1]], g.last = false, g.last[:n-1]
	case keys.Accept().Is(p) && n == 0:
		g.s.say("Press the letter of what you see.")
	case keys.Accept().Is(p):
		return g.s.do(g.q.Marks.Done(g.marked()))
	}
	return nil
}

// marked are the marked lines in words.
func (g *marks) marked() string {
	var parts []string
	for i, text := range g.q.Marks.Lines {
		if g.seen[i] {
			parts = append(parts, text)
		}
	}
	return strings.Join(parts, ", ")
}

// Keys are the letters of the lines, and enter once one is marked.
func (g *marks) Keys() []keys.Binding {
	letters := make([]string, len(g.seen), len(g.seen)+1)
	for i := range g.seen {
		letters[i] = script.SeenLetter(i)
	}
	mark := keys.Letter("", "mark", "mark what you see; several may be marked")
	mark.Keys, mark.Label = letters, strings.Join(letters, " ")
	on := keys.Accept().With("go on", "go on to the amount, or save if it is not asked")
	if len(g.last) == 0 {
		on = on.OffIf("nothing is marked yet")
	}
	return []keys.Binding{mark, keys.Letter(script.OwnWords, "own words", "say what you see in your own words"), on, keys.TakeBack().With("erase", "remove the last mark")}
}
