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

// Press moves in the list; enter writes the sign under the cursor down.
func (g *signs) Press(p keys.Press) tea.Cmd {
	switch {
	case g.s.list.Move(p, g.count()):
	case keys.Digit().Is(p):
		if i := (int(keys.Name(p)[0]-'0') + 9) % 10; i < g.count() {
			g.s.list.Cursor = i
		}
	case keys.Accept().Is(p):
		if all := procedure.Dangers(); g.s.list.Cursor < len(all) {
			return g.s.choose(all[g.s.list.Cursor])
		}
	}
	return nil
}

// Keys are those of a list.
func (g *signs) Keys() []keys.Binding {
	record := recordKey()
	if g.s.list.Cursor >= len(procedure.Dangers()) {
		record = record.OffIf("no sign is under the cursor")
	}
	return []keys.Binding{keys.Digit(), keys.Up(), record}
}

// Typing is never true.
func (g *signs) Typing() bool { return false }

// Escape goes back to the procedure.
func (g *signs) Escape() bool { return false }
