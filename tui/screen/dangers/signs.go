package dangers

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// signs is the list of the signs, with what to do first beside it.
type signs struct{ s *screen }

// railWide holds the longest title with its number.
const railWide = 29

// Rows that are no signs stand behind them.
var others = []string{"What goes by itself", "Who reports it", "Cautions"}

func (g *signs) title(i int) string {
	all := procedure.Dangers()
	if i < len(all) {
		return all[i].Title
	}
	return others[i-len(all)]
}

func (g *signs) count() int { return len(procedure.Dangers()) + len(others) }

// Lines puts the list at the left and the sign under the cursor at the right.
func (g *signs) Lines(size layout.Size) []string {
	t := g.s.Deps.Theme
	rail := railWide
	body := size.W - rail - 3
	left := g.s.list.Draw(g.count(), size.H, func(i int, here bool) string {
		text := layout.Pad(fmt.Sprintf("%d %s", i+1, g.title(i)), rail-2)
		if here {
			return t.Cursor.Render(t.Sign.Cursor + " " + text)
		}
		return "  " + text
	})
	right := g.about(body)
	return layout.Beside(layout.Fit(left, layout.Size{W: rail, H: size.H}), layout.Fit(right, layout.Size{W: body, H: size.H}), " "+t.Faint.Render(t.Sign.Bar)+" ")
}

// about is what to do first, then what is seen.
func (g *signs) about(width int) []string {
	all := procedure.Dangers()
	if g.s.list.Cursor < len(all) {
		return g.sign(all[g.s.list.Cursor], width)
	}
	var lines []string
	switch g.s.list.Cursor - len(all) {
	case 0:
		return layout.Wrap(procedure.Expected, width)
	case 1:
		return layout.Wrap(procedure.Report, width)
	}
	for _, c := range procedure.Cautions() {
		lines = append(lines, layout.Wrap(c.Line, width)...)
	}
	return lines
}

func (g *signs) sign(d procedure.Danger, width int) []string {
	t := g.s.Deps.Theme
	call := t.Alarm.Render("CALL THE VET NOW")
	if !d.Now {
		call = t.Warn.Render("TELL THE VET TODAY")
	}
	lines := []string{call}
	for i, first := range d.First {
		lines = append(lines, set(fmt.Sprintf("%d ", i+1), first, width)...)
	}
	for _, l := range layout.Wrap("Seen "+d.When+":", width) {
		lines = append(lines, t.Heading.Render(l))
	}
	lines = append(lines, layout.Wrap(strings.Join(d.Seen, "; "), width)...)
	for _, l := range layout.Wrap(string(d.Evidence)+": "+d.Sources, width) {
		lines = append(lines, t.Faint.Render(l))
	}
	return lines
}

// set writes a text behind a mark, its further lines set in.
func set(mark, text string, width int) []string {
	lines := layout.Wrap(text, width-len(mark))
	for i := range lines {
		if i == 0 {
			lines[i] = mark + lines[i]
		} else {
			lines[i] = strings.Repeat(" ", len(mark)) + lines[i]
		}
	}
	return lines
}

// Press chooses the sign with the number at once. Arrows only move, to read what is
// done first; enter alone is no answer.
func (g *signs) Press(p keys.Press) tea.Cmd {
	all := procedure.Dangers()
	switch {
	case g.s.list.Move(p, g.count()):
	case keys.Digit().Is(p):
		i := (int(keys.Name(p)[0]-'0') + 9) % 10
		if i < g.count() {
			g.s.list.Cursor = i
		}
		if i < len(all) {
			return g.s.choose(all[i])
		}
	case keys.Accept().Is(p):
		g.s.Say(fmt.Sprintf("Enter alone is no answer. Press the number of what you see, 1 to %d.", len(all)))
	}
	return nil
}

// Keys are the numbers of the signs, and of the lines that are none.
func (g *signs) Keys() []keys.Binding {
	n := len(procedure.Dangers())
	signs, rest := recordKey(), keys.Digit().With("read", "read what stands behind the signs: what goes by itself, who reports it, the cautions")
	signs.Keys, signs.Label = signs.Keys[:n], fmt.Sprintf("1-%d", n)
	rest.Keys, rest.Label = rest.Keys[n:g.count()], fmt.Sprintf("%d-%d", n+1, g.count())
	return []keys.Binding{signs, rest, keys.Up()}
}

// Typing is never true.
func (g *signs) Typing() bool { return false }

// Escape goes back to the procedure.
func (g *signs) Escape() bool { return false }
