package compare

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/tui/chart"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

func (s *screen) draw(size layout.Size) string {
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
	w := columns(size.W, len(s.table.Columns), s.longest)
	s.first = layout.Window(s.first, s.column, len(s.table.Columns), w.visits)
	last := min(s.first+w.visits, len(s.table.Columns))
	lines := s.header(w, last, size.H)
	foot := s.foot(size, last)
	room := max(size.H-len(lines)-len(foot), 1)
	lines = append(lines, s.body(w, last, layout.Size{W: size.W, H: room})...)
	for len(lines) < size.H-len(foot) {
		lines = append(lines, "")
	}
	lines = append(lines, foot...)
	lines = lines[:min(len(lines), max(size.H, 0))]
	for i := range lines {
		lines[i] = layout.Cut(lines[i], size.W)
	}
	return strings.Join(lines, "\n")
}

// body is the rows in sight, with a heading over those that stand out and one over the others.
func (s *screen) body(w widths, last int, size layout.Size) []string {
	heads := s.headings()
	lines := make([]string, 0, len(s.shown)+len(heads))
	at := 0
	for i := 0; i <= len(s.shown); i++ {
		if text, ok := heads[i]; ok {
			lines = append(lines, text)
		}
		if i < len(s.shown) {
			if i == s.rows.Cursor {
				at = len(lines)
			}
			lines = append(lines, "")
		}
	}
	s.rows.Height = size.H
	first := layout.Window(s.top, at, len(lines), size.H)
	if at == 1 && first == 1 { // the heading over the first row
		first = 0
	}
	s.top = first
	out := make([]string, 0, size.H)
	row, t := 0, s.Deps.Theme
	for i, text := range lines {
		if text == "" {
			row++
		}
		switch {
		case i < first || i >= first+size.H:
		case text != "":
			out = append(out, t.Heading.Render(layout.Cut(text, size.W)))
		default:
			out = append(out, s.row(&s.table.Rows[s.shown[row-1]], row-1 == s.rows.Cursor, w, last))
		}
	}
	return out
}

// headings stand before the row of their number.
func (s *screen) headings() map[int]string {
	rest, open := len(s.table.Rows)-s.out, s.unanswered()
	same := fmt.Sprintf("the same as before (%d)", rest-open)
	if open > 0 { // what the newest visit does not answer is not the same as before
		same += fmt.Sprintf(", not answered (%d)", open)
	}
	switch {
	case s.out == 0 && s.folded() && open == rest:
		return map[int]string{0: fmt.Sprintf("nothing answered in the newest visit; a shows the rest (%d)", rest)}
	case s.out == 0 && s.folded() && open > 0:
		return map[int]string{0: fmt.Sprintf("nothing stands out; same (%d), not answered (%d): a shows", rest-open, open)}
	case s.out == 0 && s.folded():
		return map[int]string{0: fmt.Sprintf("nothing changed, nothing out of range; %s the same: a shows them", notation.Counted(rest, "finding"))}
	case s.out == 0:
		return nil
	case s.folded():
		return map[int]string{0: fmt.Sprintf("changed or out of range (%d)", s.out), s.out: same + ": a shows them"}
	case rest == 0:
		return map[int]string{0: fmt.Sprintf("changed or out of range (%d)", s.out)}
	}
	return map[int]string{0: fmt.Sprintf("changed or out of range (%d)", s.out), s.out: same}
}

// unanswered counts the rows of which the newest visit has no finding.
func (s *screen) unanswered() int {
	n := 0
	for i := range s.table.Rows {
		if c := s.table.Rows[i].Cells; len(c) > 0 && (c[0].Empty || c[0].NotDone != "") {
			n++
		}
	}
	return n
}

// answered says whether a visit holds any finding.
func (s *screen) answered(column int) bool {
	for i := range s.table.Rows {
		if c := &s.table.Rows[i].Cells[column]; !c.Empty && c.NotDone == "" {
			return true
		}
	}
	return false
}

func (s *screen) row(r *compare.StepRow, here bool, w widths, last int) string {
	t := s.Deps.Theme
	step, ok := s.Deps.Steps.ByID(r.Step)
	label := step.Short
	if !ok {
		label = notation.CleanLine(r.Name, 0)
	}
	if site := abbreviated(r.Site); site != "" {
		label = layout.Cut(label, w.label-len(site)-1) + " " + site
	}
	if unit := string(r.Unit); r.Unit != notation.NoUnit && r.Unit != notation.Points { // every number of the row is in it
		label = layout.Cut(label, w.label-len(unit)-1) + " " + unit
	}
	own := ""
	if r.Own != nil {
		own = notation.Between(r.Own.Low, r.Own.High, r.Decimals)
	}
	line := w.line(label, notation.Ends(r.Low, r.High, 1), own, s.change(r), chart.Spark(t, past(r), w.past))
	if here {
		line = t.Cursor.Render(t.Sign.Cursor + " " + line)
	} else {
		line = "  " + line
	}
	for i := s.first; i < last; i++ {
		line += s.cell(r, i, w) + " "
	}
	return strings.TrimRight(line, " ")
}

// abbreviated is a site in the usual short form.
func abbreviated(site exam.Site) string {
	switch site {
	case exam.Left:
		return "L"
	case exam.Right:
		return "R"
	case exam.LeftUpper:
		return "L up"
	case exam.LeftLower:
		return "L low"
	case exam.RightUpper:
		return "R up"
	case exam.RightLower:
		return "R low"
	case exam.LeftFore:
		return "LF"
	case exam.RightFore:
		return "RF"
	case exam.LeftHind:
		return "LH"
	case exam.RightHind:
		return "RH"
	case exam.Overall:
		return "all"
	case exam.NoSite:
	}
	return ""
}

// past is the numbers of a row, oldest first.
func past(r *compare.StepRow) []float64 {
	var out []float64
	for i := len(r.Cells) - 1; i >= 0; i-- {
		if n := r.Cells[i].Number; n != nil {
			out = append(out, *n)
		}
	}
	return out
}

// cell is one finding; a change of the newest is marked behind it where it has no column.
func (s *screen) cell(r *compare.StepRow, i int, w widths) string {
	t, c := s.Deps.Theme, &r.Cells[i]
	switch {
	case c.Empty:
		return strings.Repeat(" ", w.visit)
	case c.NotDone != "":
		return t.Faint.Render(layout.Pad(t.Sign.NotDone+" "+notation.CleanLine(c.NotDone.String(), 0), w.visit))
	}
	changed := ""
	if i == 0 && w.change == 0 && r.Change.Verdict == compare.Changed {
		changed = t.Sign.Changed
	}
	text := layout.Cut(theme.Mark(c.Level)+c.Text, w.visit-len(changed)) + changed
	return t.Level(c.Level).Render(text) + strings.Repeat(" ", w.visit-ansi.StringWidth(text))
}

// change is the change of the newest finding in a sign and a number, or a word
// where words changed.
func (s *screen) change(r *compare.StepRow) string {
	sign := s.Deps.Theme.Sign
	switch {
	case r.Change.By == nil && r.Change.Means != "":
		return "other"
	case r.Change.By == nil:
		return ""
	}
	number := notation.FormatNumber(math.Abs(*r.Change.By), r.Decimals)
	worth := ""
	if r.Change.Verdict == compare.Changed {
		worth = sign.Changed
	}
	switch {
	case number == "0": // less than it is measured to
		return sign.Same
	case *r.Change.By > 0:
		return sign.Up + number + worth
	}
	return sign.Down + number + worth
}
