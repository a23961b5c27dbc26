package marks

import (
	"strings"

	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// gutter is the width of the cursor and of the sign of a fault.
const gutter = 3

// row is one line of the page; item is the mark that it belongs to.
type row struct {
	text  string
	item  int
	title bool
	fault string // the sign at the left, on a mark's first row
	first bool
}

// drawn is the page set for one width.
type drawn struct {
	width int
	rows  []row
	at    []int // first row of each item
}

// page sets the items for a width, once.
func (s *screen) page(width int) drawn {
	if s.drawn.width == width && s.drawn.rows != nil {
		return s.drawn
	}
	d := drawn{width: width}
	for i, it := range s.items {
		if it.title != "" {
			d.rows = append(d.rows, row{item: i}, row{text: it.title, item: i, title: true})
		}
		d.at = append(d.at, len(d.rows))
		for n, text := range it.Rows(width - gutter) {
			r := row{text: s.Deps.Theme.Letters(text), item: i, first: n == 0}
			if it.Fault && it.Cells == nil && n == 0 {
				r.fault = s.Deps.Theme.Sign.NotDone
			}
			d.rows = append(d.rows, r)
		}
	}
	s.drawn = d
	return d
}

func (s *screen) draw(size layout.Size) string {
	foot := s.foot(size)
	height := max(size.H-len(foot), 0)
	s.height = height
	d := s.page(size.W)
	s.scroll(d, height)
	lines := make([]string, 0, size.H)
	for i := s.first; i < len(d.rows) && len(lines) < height; i++ {
		lines = append(lines, layout.Cut(s.paint(d.rows[i], size.W), size.W))
	}
	for len(lines) < height && len(foot) > 0 {
		lines = append(lines, "")
	}
	return strings.Join(append(lines, foot...), "\n")
}

// end is the row after an item's last.
func (d drawn) end(item int) int {
	if item+1 < len(d.at) {
		next := d.at[item+1]
		for next > 0 && (d.rows[next-1].title || d.rows[next-1].text == "" && d.rows[next-1].item == item+1) {
			next--
		}
		return next
	}
	return len(d.rows)
}

// scroll keeps the mark under the cursor in sight, with its title where there is room.
func (s *screen) scroll(d drawn, height int) {
	top, end := d.at[s.cursor], d.end(s.cursor)
	if top > 0 && d.rows[top-1].title {
		top--
	}
	if s.cursor == 0 {
		top = 0
	}
	if end > s.first+height {
		s.first = end - height
	}
	if top < s.first {
		s.first = top
	}
	s.first = max(min(s.first, len(d.rows)-height), 0)
}

func (s *screen) paint(r row, width int) string {
	t := s.Deps.Theme
	if r.title {
		return t.Heading.Render(r.text)
	}
	cursor, fault := " ", " "
	if r.fault != "" {
		fault = r.fault
	}
	here := r.item == s.cursor
	if here && r.first {
		cursor = t.Sign.Cursor
	}
	text := cursor + fault + " " + r.text
	switch {
	case here:
		return t.Cursor.Render(layout.Pad(text, width))
	case s.items[r.item].Fault:
		return t.Warn.Render(text)
	}
	return text
}

// foot explains the mark under the cursor: how it is made, and how the step is done.
func (s *screen) foot(size layout.Size) []string {
	if !s.why || size.H < 4 {
		return nil
	}
	it := s.items[s.cursor]
	var lines []string
	for _, text := range []string{it.Why, s.how(it.MarkLine)} {
		if text != "" {
			lines = append(lines, layout.Wrap(s.Deps.Theme.Letters(notation.CleanNote(text)), size.W)...)
		}
	}
	if len(lines) == 0 {
		lines = []string{"It speaks for itself."}
	}
	if most := max(size.H/2, 2); len(lines) > most {
		lines = append(lines[:most-1], layout.Cut(lines[most-1], size.W-3)+" ..")
	}
	return append([]string{s.Deps.Theme.Across(size.W)}, lines...)
}

func (s *screen) drawNone(size layout.Size) string {
	lines := layout.Wrap(s.Deps.Theme.Letters(notation.CleanNote(s.none)), size.W)
	return strings.Join(lines[:min(len(lines), max(size.H, 1))], "\n")
}

// move takes a key that moves the cursor from mark to mark, or by a screen.
func (s *screen) move(p keys.Press) bool {
	switch {
	case keys.Up().Is(p):
		s.cursor--
	case keys.Down().Is(p):
		s.cursor++
	case keys.PageUp().Is(p):
		s.leaf(-1)
	case keys.PageDown().Is(p):
		s.leaf(1)
	case keys.Name(p) == "home":
		s.cursor = 0
	case keys.Name(p) == "end":
		s.cursor = len(s.items) - 1
	default:
		return false
	}
	s.cursor = max(min(s.cursor, len(s.items)-1), 0)
	return true
}

// leaf goes on, or back, by a screen: to the mark that lies about as many rows away, and to another one at least.
func (s *screen) leaf(way int) {
	at := s.drawn.at
	if len(at) != len(s.items) {
		s.cursor += way // not drawn yet
		return
	}
	want := at[s.cursor] + way*max(s.height-1, 1)
	next := s.cursor + way
	for next+way >= 0 && next+way < len(at) && (at[next+way]-want)*way <= 0 {
		next += way
	}
	s.cursor = next
}
