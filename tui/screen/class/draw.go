package class

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/rehearse/class"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
)

// widths are those of four columns behind the name.
type widths [4]int

var (
	personWide = widths{8, 4, 8, 14}
	stepWide   = widths{8, 7, 5, 7}
)

// peopleWide holds "100 students".
const peopleWide = 12

func (s *screen) none(size layout.Size) string {
	text := "Nobody took a set exam in this record. A teacher writes one as a file (loosebox rehearse --exam-pattern prints one). " +
		"Each student takes it with loosebox rehearse --exam FILE." + s.unmarked()
	return strings.Join(layout.Wrap(text, size.W), "\n")
}

func (s *screen) draw(c class.Results, size layout.Size) string {
	t := s.Deps.Theme
	lines := make([]string, 0, size.H)
	about := c.Summary()
	if s.hidden() {
		about = "This exam shows its marks " + c.Set.Shown.String() + ". Taken by " + notation.Counted(len(c.Students), "student") + "."
	}
	for _, l := range layout.Wrap(about+s.unmarked(), size.W) {
		lines = append(lines, t.Faint.Render(l))
	}
	lines = append(lines, "", t.Heading.Render(layout.Pad(layout.Cut(s.head(size.W), size.W), size.W)))
	row := s.rowsOf(c, size.W)
	under := s.under(c, size.W)
	room := max(size.H-len(lines)-len(under), 1)
	rows := s.rows[s.view].Draw(len(row), room, func(i int, here bool) string {
		return list.Line(t, row[i], size.W, here)
	})
	lines = append(lines, rows...)
	for len(rows) < room && len(under) > 0 {
		rows, lines = append(rows, ""), append(lines, "")
	}
	lines = append(lines, under...)
	return strings.Join(lines[:min(len(lines), size.H)], "\n")
}

func (s *screen) head(width int) string {
	switch {
	case s.hidden():
		return "  name"
	case s.view == byStep:
		return "  " + stepWide.line(width, s.view.words(), "right", "in part", "wrong", "no exam")
	case s.view == byFault:
		return "  " + layout.Pad("by fault", min(max(width-2-peopleWide, 20), 60)) + "people"
	}
	return "  " + personWide.line(width, s.view.words(), "points", "%", "right", "result")
}

// line sets a name, which has what the columns leave, and a text in each of them.
func (w widths) line(width int, name string, texts ...string) string {
	wide := width - 2
	for _, column := range w {
		wide -= column + 1
	}
	line := layout.Pad(name, min(max(wide, 12), 50))
	for i, text := range texts {
		line += " " + layout.Pad(text, w[i])
	}
	return line
}

func (s *screen) rowsOf(c class.Results, width int) []string {
	var out []string
	switch {
	case s.view == byStep && !s.hidden():
		for _, p := range c.Places() {
			out = append(out, stepWide.line(width, p.Name, fmt.Sprintf("%d of %d", p.Right, p.Asked), number(p.InPart), number(p.Wrong), number(p.Not)))
		}
	case s.view == byFault && !s.hidden():
		for _, f := range c.Faults() {
			name := notation.CleanLine(strings.TrimSuffix(f.Kind.String()+": "+f.Name, ": "), 0)
			wide := min(max(width-2-peopleWide, 20), 60)
			out = append(out, layout.Pad(layout.Cut(name, wide-1), wide)+notation.Counted(len(f.By), "student"))
		}
	default:
		for _, st := range c.Students {
			out = append(out, s.student(c, st, width))
		}
	}
	return out
}

// number leaves a zero out: a table of faults is read by what stands in it.
func number(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

func (s *screen) student(c class.Results, st class.Student, width int) string {
	name := notation.CleanLine(st.Name, 0)
	b := st.Best
	switch {
	case s.hidden():
		return name
	case b == nil:
		return personWide.line(width, name, "-", "-", "-", c.Result(st))
	}
	t := b.Marks.Tally()
	result, _, _ := strings.Cut(c.Result(st), ":") // why stands below
	return personWide.line(width, name, notation.FormatNumber(b.Score.Points, 1)+"/"+notation.FormatNumber(b.Score.Of, 0),
		notation.FormatNumber(b.Score.Percent, 0), fmt.Sprintf("%d/%d", t.Right, t.Asked), result)
}

// under says of the row under the cursor what has no column.
func (s *screen) under(c class.Results, width int) []string {
	at := s.rows[s.view].Cursor
	text := ""
	switch {
	case s.hidden():
	case s.view == byPerson && at < len(c.Students):
		st := c.Students[at]
		text = fmt.Sprintf("%s: %s; %s", notation.CleanLine(st.Name, 40), c.Result(st), notation.Counted(len(st.Attempts), "attempt"))
		if st.Best != nil {
			text += fmt.Sprintf("; %.0f min", st.Best.Marks.TotalS/60)
		}
	case s.view == byFault:
		if faults := c.Faults(); at < len(faults) {
			text = "made by " + strings.Join(faults[at].By, ", ")
		}
	}
	if text == "" {
		return nil
	}
	lines := layout.Wrap(notation.CleanLine(text, 0), width)
	return append([]string{s.Deps.Theme.Faint.Render(strings.Repeat("─", width))}, lines[:min(len(lines), 3)]...)
}
