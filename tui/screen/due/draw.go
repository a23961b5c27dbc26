package due

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the record .."
	}
	t := s.Deps.Theme
	foot := s.foot(size)
	lines := []string{}
	if s.problem != "" {
		for _, line := range layout.Wrap(t.Sign.NotDone+" "+notation.CleanLine(s.problem, 0), size.W) {
			lines = append(lines, t.Error.Render(line))
		}
		lines = lines[:min(len(lines), 2)]
	}
	if s.finding || s.find.Text != "" {
		line := "find: " + s.find.Text
		if s.finding {
			line += "_"
		}
		lines = append(lines, t.Strong.Render(layout.Ends(line, fmt.Sprintf("%d of %d", len(s.rows), len(s.all)), size.W)))
	}
	c := columnsOf(size.W, s.id == "")
	lines = append(lines, t.Heading.Render(layout.Pad("  "+c.line(s.heading()), size.W)))
	switch {
	case len(s.rows) == 0 && len(s.all) > 0:
		lines = append(lines, "  no line holds what you look for")
	case len(s.rows) == 0:
		lines = append(lines, "  nothing is due: no horse is in the record yet")
	}
	room := max(size.H-len(lines)-len(foot), 0)
	lines = append(lines, s.cursor.Draw(len(s.rows), room, func(i int, here bool) string {
		return s.draw(s.rows[i], c, here, size.W)
	})...)
	for len(lines) < size.H-len(foot) {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

func (s *screen) heading() row {
	if s.id == "" {
		return row{status: "status", what: "horse", when: "the first", given: "what"}
	}
	return row{status: "status", what: "what", when: "when", given: "primary series"}
}

func (s *screen) draw(r row, c columns, here bool, width int) string {
	t := s.Deps.Theme
	if here {
		return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+c.line(r), width))
	}
	if c.whole(r) {
		return layout.Cut("  "+s.style(r.style).Render(layout.Pad(r.status, c.status))+" "+r.what, width)
	}
	return layout.Cut("  "+s.style(r.style).Render(layout.Pad(r.status, c.status))+" "+c.rest(r), width)
}

func (s *screen) style(st style) lipgloss.Style {
	t := s.Deps.Theme
	switch st {
	case pressing, asking:
		return t.Warn
	case soon:
		return t.Mild
	case plain:
	}
	return t.Faint
}

// foot is what is known of the line under the cursor, and that the schedule is a
// guideline.
func (s *screen) foot(size layout.Size) []string {
	t := s.Deps.Theme
	var over []string
	for _, line := range layout.Wrap(due.Overrides, size.W) {
		over = append(over, t.Faint.Render(line))
	}
	at, ok := s.here()
	if !ok {
		return over
	}
	out := []string{t.Across(size.W)}
	texts := at.more
	if s.source && len(at.source) > 0 {
		texts = at.source
	}
	for _, text := range texts {
		out = append(out, layout.Wrap(text, size.W)...)
	}
	most := max(size.H/2-len(over), 1)
	if s.source {
		most = max(size.H-len(over)-4, 1) // whoever asks whose schedule it is gets all of it
	}
	if len(out) > most {
		out = out[:most]
		out[most-1] = layout.Cut(out[most-1], size.W-3) + " .."
	}
	return append(out, over...)
}

// columns are the widths of the list; 0 leaves a column out.
type columns struct{ status, what, when, given int }

func columnsOf(width int, all bool) columns {
	c := columns{status: 9, when: 25}
	switch {
	case all:
		c.when = 15
	case width < 76:
		c.when = 21
	}
	room := width - 4 - c.status - c.when
	switch {
	case all:
		c.what = min(room*2/5, 18)
		c.given = room - c.what - 1
	case width < 76:
		c.what = room
	default:
		c.what = min(room-21, 40)
		c.given = room - c.what - 1
	}
	return c
}

// whole says that a row is one text over all columns: a question or a note.
func (c columns) whole(r row) bool { return r.when == "" && r.given == "" && r.horse == "" }

func (c columns) line(r row) string {
	if c.whole(r) {
		return layout.Pad(r.status, c.status) + " " + r.what
	}
	return layout.Pad(r.status, c.status) + " " + c.rest(r)
}

func (c columns) rest(r row) string {
	text := layout.Pad(r.what, c.what) + " " + layout.Pad(r.when, c.when)
	if c.given > 0 {
		text += " " + layout.Pad(fewer(r.given, c.given), c.given)
	}
	return text
}

// fewer says how many names of a list are left out where a width does not hold all of them.
func fewer(names string, wide int) string {
	list := strings.Split(names, ", ")
	for n := len(list); n > 0; n-- {
		text := strings.Join(list[:n], ", ")
		if more := len(list) - n; more > 0 {
			text += fmt.Sprintf(" and %d more", more)
		}
		if ansi.StringWidth(text) <= wide {
			return text
		}
	}
	return names
}
