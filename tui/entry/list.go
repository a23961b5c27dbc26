package entry

import (
	"fmt"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// list is a numbered list of choices with a cursor. The cursor is -1 until a line is chosen, so that enter alone never
// answers.
type list struct {
	choices []exam.Choice
	cursor  int
	first   int // of the lines in sight
	number  func(i int) string
	before  func(i int) string // stands before the words: a mark box
}

func (l *list) press(p keys.Press) bool {
	last := len(l.choices) - 1
	var to int
	switch i, ok := digit(p); {
	case ok && i <= last:
		to = i
	case ok:
		return true // a digit without a line does nothing
	case keys.Up().Is(p) && l.cursor < 0:
		to = last
	case keys.Up().Is(p):
		to = max(l.cursor-1, 0)
	case keys.Down().Is(p):
		to = min(l.cursor+1, last)
	case keys.Name(p) == "home":
		to = 0
	case keys.Name(p) == "end":
		to = last
	case keys.PageUp().Is(p):
		to = max(l.cursor-6, 0)
	case keys.PageDown().Is(p):
		to = min(max(l.cursor, 0)+6, last)
	default:
		return false
	}
	l.cursor = to
	return true
}

func (l *list) chosen() (exam.Choice, bool) {
	if l.cursor < 0 || l.cursor >= len(l.choices) {
		return exam.Choice{}, false
	}
	return l.choices[l.cursor], true
}

// put moves the cursor to the choice with the key, if there is one.
func (l *list) put(key string) {
	for i, c := range l.choices {
		if c.Key == key {
			l.cursor = i
		}
	}
}

// openFrom is the height from which the lines of a list may stand apart.
const openFrom = 10

// view draws the list in the room: every hint beside its words where they fit,
// else the words and hint of the line under the cursor below the list.
func (l *list) view(t *theme.Theme, size layout.Size) []string {
	wide, hint := l.widths()
	beside := hint > 0 && wide+2+hint <= size.W
	var below []string
	if c, ok := l.chosen(); ok && !beside {
		below = l.below(t, c, wide, size.W)
	}
	height := min(len(l.choices), max(size.H-len(below), 3))
	more := height < len(l.choices)
	if more {
		height--
	}
	open := size.H >= openFrom && 2*len(l.choices)+len(below) <= size.H // a line between each two, to be read from afar
	l.first = layout.Window(l.first, max(l.cursor, 0), len(l.choices), height)
	var lines []string
	for i := l.first; i < l.first+height && i < len(l.choices); i++ {
		text := l.label(t, i)
		if beside && l.choices[i].Hint != "" {
			hint := l.choices[i].Hint
			if i != l.cursor { // one style inside another would end it
				hint = t.Faint.Render(hint)
			}
			text = layout.Pad(text, wide) + "  " + hint
		}
		if i == l.cursor {
			text = t.Cursor.Render(layout.Cut(text, size.W))
		}
		lines = append(lines, text)
		if open && i < len(l.choices)-1 {
			lines = append(lines, "")
		}
	}
	if more {
		lines = append(lines, t.Faint.Render(fmt.Sprintf("  %d to %d of %d", l.first+1, l.first+height, len(l.choices))))
	}
	return fit(append(lines, below...), size)
}

func (l *list) label(t *theme.Theme, i int) string {
	sign := " "
	if i == l.cursor {
		sign = t.Sign.Cursor
	}
	number := numeral(i)
	if l.number != nil {
		number = l.number(i)
	}
	box := ""
	if l.before != nil {
		box = l.before(i) + " "
	}
	return sign + " " + number + " " + box + l.choices[i].Words
}

func (l *list) widths() (label, hint int) {
	for i, c := range l.choices {
		plain := "  " + numeral(i) + " " + c.Words
		if l.number != nil {
			plain = "  " + l.number(i) + " " + c.Words
		}
		if l.before != nil {
			plain += l.before(i) + " "
		}
		label = max(label, ansi.StringWidth(plain))
		hint = max(hint, ansi.StringWidth(c.Hint))
	}
	return label, hint
}

func (l *list) below(t *theme.Theme, c exam.Choice, wide, width int) []string {
	text := c.Hint
	if wide > width {
		text = c.Words
		if c.Hint != "" {
			text += ": " + c.Hint
		}
	}
	if text == "" {
		return nil
	}
	return words(t, text, width)
}
