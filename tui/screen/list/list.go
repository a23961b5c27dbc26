// Package list is a cursor over rows. It draws only the visible ones, so that ten thousand rows take no longer than twenty.
package list

import (
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// List is a cursor and the window around it. Its zero value is ready to use, on the first row.
type List struct {
	Cursor int
	Height int // of the window when it was drawn last; a page is one less
	first  int
}

// Move handles a key that moves the cursor among count rows; false where the key does not.
func (l *List) Move(p keys.Press, count int) bool {
	page := max(l.Height-1, 1)
	switch {
	case keys.Up().Is(p):
		l.Cursor--
	case keys.Down().Is(p):
		l.Cursor++
	case keys.PageUp().Is(p):
		l.Cursor -= page
	case keys.PageDown().Is(p):
		l.Cursor += page
	default:
		switch keys.Name(p) {
		case "home":
			l.Cursor = 0
		case "end":
			l.Cursor = count - 1
		default:
			return false
		}
	}
	l.Keep(count)
	return true
}

// Keys are the bindings of a list of count rows of which one is opened; with no row they are off, and say why.
func Keys(open keys.Binding, count int, why string) []keys.Binding {
	if count > 0 {
		why = ""
	}
	return []keys.Binding{open.OffIf(why), keys.Up().OffIf(why), keys.Down().OffIf(why), keys.PageDown()}
}

// Keep moves the cursor onto one of count rows, if there are fewer now.
func (l *List) Keep(count int) { l.Cursor = max(min(l.Cursor, count-1), 0) }

// Draw returns the visible rows of a window of height lines; row draws row i, here on the row of the cursor.
func (l *List) Draw(count, height int, row func(i int, here bool) string) []string {
	l.Keep(count)
	l.Height = height
	l.first = layout.Window(l.first, l.Cursor, count, height)
	lines := make([]string, 0, max(height, 0))
	for i := l.first; i < count && len(lines) < height; i++ {
		lines = append(lines, row(i, i == l.Cursor))
	}
	return lines
}

// Line draws a row of width columns, with the sign of the cursor before it if here.
func Line(t *theme.Theme, text string, width int, here bool) string {
	if here {
		return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+text, width))
	}
	return layout.Cut("  "+text, width)
}

// Above and Below say how many rows are out of sight.
func (l *List) Above() int { return l.first }

// Below says how many rows of count lie under the window.
func (l *List) Below(count int) int { return max(count-l.first-l.Height, 0) }
