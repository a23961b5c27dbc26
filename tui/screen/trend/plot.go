package trend

import (
	"cmp"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/ranges"
	plots "loosebox/tui/chart"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// plot draws the points of a measure with a fine line through them over the usual band of the class at that time, the limits
// of the range, and at the right end the own range and the band of no change.
func (s *screen) plot(d *series, x plots.Times, size layout.Size) []string {
	t := s.Deps.Theme
	sc := newScale(d.extent(), size.H)
	field := plots.NewCanvas(t, size.W-side, size.H)
	at := s.columns(d, x)
	drawBand(field, d.points, at, sc, size.W-side, t.Sign.Band, t.Sign.Limit)
	for i := 1; i < len(d.points); i++ {
		if d.unbroken(i) {
			field.Line(at[i-1]*plots.DotsWide, sc.dot(d.points[i-1].Value), at[i]*plots.DotsWide, sc.dot(d.points[i].Value))
		}
	}
	for _, i := range d.byUrgency() {
		field.Put(at[i], sc.row(d.points[i].Value), pointSign(t, d.points[i].Level), plots.InkOf(d.points[i].Level))
	}
	for _, i := range d.named() {
		write(field, at[i], sc.row(d.points[i].Value), notation.FormatNumber(d.points[i].Value, max(d.step.Decimals, 0)))
	}
	labels, rows := sc.labels(), field.Rows()
	for r := range rows {
		rows[r] = layout.PadLeft(labels[r], axisWide) + t.Sign.Bar + rows[r] + d.ownSign(t.Sign.Bar, sc, r)
		if d == &s.data {
			rows[r] += s.stillSign(sc, r)
		}
	}
	return rows
}

// side is what the numbers at the left and the signs at the right take of a plot.
const side = axisWide + 5

// columns are those of the points of a measure.
func (s *screen) columns(d *series, x plots.Times) []int {
	out := make([]int, len(d.points))
	for i, p := range d.points {
		for j, m := range s.moments {
			if m.visit == p.Visit {
				out[i] = x.Column(j)
			}
		}
	}
	return out
}

// unbroken says that no long gap lies before a point.
func (d *series) unbroken(i int) bool { return d.points[i].At.Sub(d.points[i-1].At) <= plots.LongGap }

// byUrgency are the points, the most urgent last, so that it lies on top.
func (d *series) byUrgency() []int {
	out := make([]int, len(d.points))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(d.points[a].Level, d.points[b].Level) })
	return out
}

// named are the points whose number stands beside them: the highest, the last and the first.
func (d *series) named() []int {
	if len(d.points) == 0 {
		return nil
	}
	top := 0
	for i, p := range d.points {
		if p.Value > d.points[top].Value {
			top = i
		}
	}
	out := []int{top}
	for _, i := range []int{len(d.points) - 1, 0} {
		if !slices.Contains(out, i) {
			out = append(out, i)
		}
	}
	return out
}

// write puts a number beside a point, where there is room.
func write(field *plots.Canvas, col, row int, text string) {
	wide := ansi.StringWidth(text)
	for _, at := range [][2]int{{col + 2, row}, {col - wide - 1, row}, {col + 1, row - 1}, {col - wide, row - 1}, {col + 1, row + 1}, {col - wide, row + 1}, {col - wide + 1, row + 2}, {col - wide + 1, row - 2}} {
		if field.Free(at[0], at[1], wide) {
			field.Put(at[0], at[1], text, plots.InkText)
			return
		}
	}
}

// extent are all values that the axis must hold.
func (d *series) extent() []float64 {
	var out []float64
	for _, p := range d.points {
		out = append(out, p.Value)
		for _, edge := range []*float64{p.Low, p.High} {
			if edge != nil {
				out = append(out, *edge)
			}
		}
		if n := len(p.Zones); n > 2 && p.Zones[n-2].Level == ranges.LevelRecheck { // where a recheck begins above
			out = append(out, p.Zones[n-2].From)
		}
	}
	if d.own != nil {
		out = append(out, d.own.Low, d.own.High)
	}
	return out
}

// drawBand fills what is usual and draws the limits: each column takes the range of the visit nearest
// in time, because the range changes with the horse's class.
func drawBand(field *plots.Canvas, points []compare.TrendPoint, at []int, sc scale, width int, band, limit string) {
	if len(points) == 0 {
		return
	}
	nearest := 0
	for x := range width {
		for nearest+1 < len(points) && abs(at[nearest+1]-x) <= abs(at[nearest]-x) {
			nearest++
		}
		p := points[nearest]
		top, bottom := sc.rows, -1
		if p.Low != nil || p.High != nil {
			top, bottom = 0, sc.rows-1
			if p.High != nil {
				top = sc.row(*p.High)
			}
			if p.Low != nil {
				bottom = sc.row(*p.Low)
			}
			for r := top; r <= bottom; r++ {
				field.Put(x, r, band, plots.InkBand)
			}
		}
		for i := 1; i < len(p.Zones); i++ {
			z := p.Zones[i]
			level := max(z.Level, p.Zones[i-1].Level)
			row := sc.row(z.From)
			if level < ranges.LevelRecheck || z.From < sc.low || z.From > sc.high || row >= top && row <= bottom {
				continue
			}
			ink := plots.InkRecheck
			if level == ranges.LevelTell {
				ink = plots.InkTell
			}
			field.Put(x, row, limit, ink)
		}
	}
}

func abs(n int) int { return max(n, -n) }

func pointSign(t *theme.Theme, l exam.Level) string {
	if l == ranges.LevelUsual {
		return t.Sign.Point
	}
	return theme.Mark(l)
}

// ownSign draws the own range at the right end.
func (d *series) ownSign(bar string, sc scale, row int) string {
	if d.own == nil || row < sc.row(d.own.High) || row > sc.row(d.own.Low) {
		return "  "
	}
	return " " + bar
}

// stillSign draws beside it what would be no change at the visit under the cursor.
func (s *screen) stillSign(sc scale, row int) string {
	low, high, ok := s.still()
	if !ok || high < sc.low || low > sc.high || row < sc.row(high) || row > sc.row(low) {
		return ""
	}
	return " " + s.Deps.Theme.Sign.Same
}

// timeAxis is the rule below with the place of the cursor, and the dates.
func (s *screen) timeAxis(x plots.Times) []string {
	lead := strings.Repeat(" ", axisWide+1)
	rule, days := x.Axis(s.Deps.Theme, s.moment())
	return []string{lead + rule, lead + days}
}

// moment is that of the visit under the cursor; -1 where it has no number.
func (s *screen) moment() int {
	for i, m := range s.moments {
		if m.visit == s.data.lines[s.cursor.Cursor].visit {
			return i
		}
	}
	return -1
}
