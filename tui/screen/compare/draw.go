package compare

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// widths are the columns of the table for a window; own is 0 where there is no room.
type widths struct{ label, usual, own, change, visit, visits int }

// mostVisit is the widest a visit's column gets where there are fewer visits
// than would fit.
const mostVisit = 26

func columns(width, visits int) widths {
	w := widths{label: 14, usual: 9, change: 6, visit: 12}
	switch {
	case width >= 110:
		w = widths{label: 24, usual: 13, own: 11, change: 8, visit: 13}
	case width >= 76:
		w = widths{label: 18, usual: 11, change: 7, visit: 12}
	}
	room := width - w.side()
	w.visits = max(room/(w.visit+1), 1)
	if visits > 0 && visits < w.visits {
		w.visit = min(room/visits-1, mostVisit)
	}
	return w
}

// side is what stands before the visits, each column with a space behind it.
func (w widths) side() int {
	n := 2 + w.label + 1 + w.usual + 1 + w.change + 1
	if w.own > 0 {
		n += w.own + 1
	}
	return n
}

func (w widths) line(label, usual, own, change string) string {
	parts := []string{layout.Pad(label, w.label), layout.Pad(usual, w.usual)}
	if w.own > 0 {
		parts = append(parts, layout.Pad(own, w.own))
	}
	return strings.Join(append(parts, layout.Pad(change, w.change)), " ") + " "
}

func (s *screen) draw(size layout.Size) string {
	if s.origin.Open() {
		return s.origin.Draw(s.Deps.Theme, size)
	}
	w := columns(size.W, len(s.table.Columns))
	s.first = layout.Window(s.first, s.column, len(s.table.Columns), w.visits)
	last := min(s.first+w.visits, len(s.table.Columns))
	lines := s.header(w, last)
	foot := s.foot(size, last)
	room := max(size.H-len(lines)-len(foot), 1)
	lines = append(lines, s.rows.Draw(len(s.table.Rows), room, func(i int, here bool) string {
		return s.row(&s.table.Rows[i], here, w, last)
	})...)
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

// header names the columns: the date of each visit and under it its level and
// how much of it was answered.
func (s *screen) header(w widths, last int) []string {
	t := s.Deps.Theme
	named := s.table.Dates()
	dates, levels := "  "+w.line("", "usual", "own range", "change"), "  "+w.line("level so far", "", "", "")
	covered := "  " + w.line("answered", "", "", "")
	for i := s.first; i < last; i++ {
		c := s.table.Columns[i]
		sign := " "
		if i == s.column {
			sign = t.Sign.Cursor
		}
		dates += layout.Pad(sign+named.Fit(c.At, w.visit-1), w.visit) + " "
		word := c.Level.String()
		switch {
		case c.Open:
			word = "not finished"
		case c.Level == ranges.LevelUsual && !s.answered(i):
			word = ""
		}
		levels += layout.Pad(word, w.visit) + " "
		covered += layout.Pad(c.Coverage.Short(), w.visit) + " "
	}
	lines := []string{t.Heading.Render(strings.TrimRight(dates, " "))}
	for _, l := range []string{levels, covered} {
		lines = append(lines, t.Faint.Render(strings.TrimRight(l, " ")))
	}
	return lines
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

func (s *screen) row(r *compare.Row, here bool, w widths, last int) string {
	t := s.Deps.Theme
	step, ok := s.Deps.Steps.ByID(r.Step)
	label := step.Short
	if !ok {
		label = notation.CleanLine(r.Name, 0)
	}
	if site := abbreviated(r.Site); site != "" {
		label = layout.Cut(label, w.label-len(site)-1) + " " + site
	}
	unit := notation.NoUnit
	if w.usual > 9 {
		unit = r.Unit
	}
	own := ""
	if r.Own != nil {
		own = span(&r.Own.Low, &r.Own.High, r.Decimals, notation.NoUnit)
	}
	line := w.line(label, span(r.Low, r.High, 1, unit), own, s.change(r))
	if here {
		line = t.Cursor.Render(t.Sign.Cursor + " " + line)
	} else {
		line = "  " + line
	}
	for i := s.first; i < last; i++ {
		line += s.cell(&r.Cells[i], w.visit) + " "
	}
	return strings.TrimRight(line, " ")
}

// abbreviated is a site as the trade writes it on a card.
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

func (s *screen) cell(c *compare.Cell, width int) string {
	t := s.Deps.Theme
	switch {
	case c.Empty:
		return strings.Repeat(" ", width)
	case c.NotDone != "":
		return t.Faint.Render(layout.Pad(t.Sign.NotDone+" "+notation.CleanLine(c.NotDone.String(), 0), width))
	}
	return t.Level(c.Level).Render(layout.Pad(theme.Mark(c.Level)+c.Text, width))
}

// change is the change of the newest finding in a sign and a number, or a word
// where words changed.
func (s *screen) change(r *compare.Row) string {
	sign := s.Deps.Theme.Sign
	switch {
	case r.Change.By == nil && r.Change.Means != "":
		return "other"
	case r.Change.By == nil:
		return ""
	}
	number := notation.FormatNumber(math.Abs(*r.Change.By), max(r.Decimals, 1))
	worth := ""
	if r.Change.Verdict == compare.Changed {
		worth = sign.Changed
	}
	switch {
	case number == "0":
		return sign.Same
	case *r.Change.By > 0:
		return sign.Up + number + worth
	}
	return sign.Down + number + worth
}

func span(low, high *float64, decimals int, unit notation.Unit) string {
	text := ""
	switch {
	case low != nil && high != nil:
		text = notation.FormatNumber(*low, decimals) + "-" + notation.FormatNumber(*high, decimals)
	case high != nil:
		text = "to " + notation.FormatNumber(*high, decimals)
	case low != nil:
		text = "from " + notation.FormatNumber(*low, decimals)
	default:
		return ""
	}
	if unit != notation.NoUnit && unit != notation.Points {
		text += " " + string(unit)
	}
	return text
}

// foot is what is said of the finding under the cursor, and the legend. Its
// height does not change from row to row, so that the table stands still.
func (s *screen) foot(size layout.Size, last int) []string {
	t := s.Deps.Theme
	height := 3
	texts := []string{s.detail.value, s.detail.why, s.detail.change}
	if size.H >= 18 {
		height = 4
	}
	var lines []string
	for _, text := range texts {
		lines = append(lines, layout.Wrap(notation.CleanNote(text), size.W)...)
	}
	if len(lines) > height {
		lines = append(lines[:height-1], layout.Cut(lines[height-1], size.W-3)+" ..")
	}
	lines = layout.Fit(lines, layout.Size{W: size.W, H: height})
	legend := fmt.Sprintf("%s %s  %s %s  %s %s  %s not done  %s more than noise",
		theme.Mark(ranges.LevelNote), ranges.LevelNote, theme.Mark(ranges.LevelRecheck), ranges.LevelRecheck, theme.Mark(ranges.LevelTell), ranges.LevelTell, t.Sign.NotDone, t.Sign.Changed)
	if size.W < 76 {
		legend = fmt.Sprintf("%s note %s recheck %s tell %s not done %s changed",
			theme.Mark(ranges.LevelNote), theme.Mark(ranges.LevelRecheck), theme.Mark(ranges.LevelTell), t.Sign.NotDone, t.Sign.Changed)
	}
	count := fmt.Sprintf("%d-%d of %d", s.first+1, last, len(s.table.Columns))
	return append(append([]string{t.Across(size.W)}, lines...), t.Faint.Render(layout.Ends(legend, count, size.W)))
}
