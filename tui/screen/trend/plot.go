package trend

import (
	"math"
	"strings"
	"time"

	"github.com/charmbracelet/lipgloss"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/exam/report/chart"
	"loosebox/ranges"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// axisWide is the width of the numbers at the left.
const axisWide = 7

// scale turns values into rows of the plot, the largest at the top.
type scale struct {
	low, high float64
	tick      float64
	rows      int
}

// newScale finds an axis that holds every value with little room beside them,
// and round numbers to write at it. Where all values are alike it is two high.
func newScale(values []float64, rows int) scale {
	low, high := math.Inf(1), math.Inf(-1)
	for _, v := range values {
		low, high = math.Min(low, v), math.Max(high, v)
	}
	if !(low <= high) || rows < 2 {
		return scale{low: 0, high: 1, tick: 1, rows: max(rows, 1)}
	}
	if high-low < 1e-9*math.Max(math.Abs(high), 1) {
		low, high = low-1, high+1
	}
	room := (high - low) / float64(2*rows)
	return scale{low: low - room, high: high + room, tick: chart.Tick((high - low) * 2.5 / float64(rows)), rows: rows}
}

// row is where a value is drawn, 0 at the top.
func (s scale) row(v float64) int {
	if s.rows < 2 || s.high <= s.low {
		return 0
	}
	r := math.Round((s.high - v) / (s.high - s.low) * float64(s.rows-1))
	return int(math.Max(0, math.Min(r, float64(s.rows-1))))
}

// labels are the numbers of the axis by row.
func (s scale) labels() map[int]string {
	out := map[int]string{}
	decimals := max(int(math.Ceil(-math.Log10(s.tick)-1e-9)), 0)
	first := math.Ceil(s.low/s.tick - 1e-9)
	for i := range s.rows * 2 {
		v := (first + float64(i)) * s.tick
		if v > s.high {
			break
		}
		out[s.row(v)] = notation.FormatNumber(v, decimals)
	}
	return out
}

// columnsOf gives each point its column in a plot so many columns wide, by the
// time between the visits.
func columnsOf(points []compare.Point, width int) []int {
	out := make([]int, len(points))
	if len(points) == 0 {
		return out
	}
	first, last := points[0].At, points[len(points)-1].At
	for i, p := range points {
		out[i] = width / 2
		if all := last.Sub(first); all > 0 {
			out[i] = int(math.Round(float64(p.At.Sub(first)) / float64(all) * float64(width-1)))
		}
	}
	return out
}

// glyph is one character of the plot with the level that styles it.
type glyph struct {
	sign  string
	point bool
	level exam.Level
}

// plot draws the points with the usual band of the class at that time, the own
// range and the band of no change at the right end, and dates below.
func (s *screen) plot(size layout.Size) []string {
	t, d := s.Deps.Theme, &s.data
	width, rows := size.W-axisWide-5, size.H-2
	sc := newScale(d.extent(), rows)
	at := columnsOf(d.points, width)
	grid := make([][]glyph, rows)
	for r := range grid {
		grid[r] = make([]glyph, width)
	}
	drawBand(grid, d.points, at, sc, t.Sign.Band)
	for i, p := range d.points {
		g := &grid[sc.row(p.Value)][at[i]]
		if g.point && g.level > p.Level {
			continue // the more urgent of two in one place
		}
		*g = glyph{sign: pointSign(t, p.Level), point: true, level: p.Level}
	}
	labels, lines := sc.labels(), make([]string, 0, size.H)
	for r := range grid {
		lines = append(lines, layout.PadLeft(labels[r], axisWide)+t.Sign.Bar+paint(grid[r], t)+s.ownSign(sc, r)+s.stillSign(sc, r))
	}
	return append(lines, s.timeAxis(at, width)...)
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
	}
	if d.own != nil {
		out = append(out, d.own.Low, d.own.High)
	}
	return out
}

// drawBand fills what is usual: each column takes the range of the visit nearest
// in time, because the range changes with the horse's class.
func drawBand(grid [][]glyph, points []compare.Point, at []int, sc scale, sign string) {
	if len(grid) == 0 || len(points) == 0 {
		return
	}
	nearest := 0
	for x := range grid[0] {
		for nearest+1 < len(points) && abs(at[nearest+1]-x) <= abs(at[nearest]-x) {
			nearest++
		}
		p := points[nearest]
		if p.Low == nil && p.High == nil {
			continue
		}
		top, bottom := 0, len(grid)-1
		if p.High != nil {
			top = sc.row(*p.High)
		}
		if p.Low != nil {
			bottom = sc.row(*p.Low)
		}
		for r := top; r <= bottom; r++ {
			grid[r][x].sign = sign
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

// paint writes a row, each run of one style at once.
func paint(row []glyph, t *theme.Theme) string {
	var out, run strings.Builder
	style := t.Faint
	flush := func(next lipgloss.Style) {
		if run.Len() > 0 {
			out.WriteString(style.Render(run.String()))
			run.Reset()
		}
		style = next
	}
	band := true
	for _, g := range row {
		switch {
		case g.point:
			flush(t.Level(g.level))
			band = false
		case !band:
			flush(t.Faint)
			band = true
		}
		if g.sign == "" {
			g.sign = " "
		}
		run.WriteString(g.sign)
	}
	flush(t.Faint)
	return out.String()
}

// ownSign draws the own range at the right end.
func (s *screen) ownSign(sc scale, row int) string {
	own := s.data.own
	if own == nil || row < sc.row(own.High) || row > sc.row(own.Low) {
		return "  "
	}
	return " " + s.Deps.Theme.Sign.Bar
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
func (s *screen) timeAxis(at []int, width int) []string {
	t, d := s.Deps.Theme, &s.data
	rule := strings.Repeat(t.Sign.Rule, width)
	for i, p := range d.points {
		if p.Visit == d.lines[s.cursor.Cursor].visit {
			rule = strings.Repeat(t.Sign.Rule, at[i]) + "^" + strings.Repeat(t.Sign.Rule, width-at[i]-1)
		}
	}
	first, last := d.points[0].At, d.points[len(d.points)-1].At
	lead := strings.Repeat(" ", axisWide+1)
	return []string{lead + rule, lead + dates(first, last, width)}
}

// dates are the ends of the time axis and its middle; hours where the whole axis
// is a few days.
func dates(first, last time.Time, width int) string {
	form := "2006-01-02"
	if last.Sub(first) < 72*time.Hour {
		form = "2006-01-02 15:04"
	}
	if !last.After(first) {
		return layout.PadLeft(first.Format(form), width/2+len(form)/2)
	}
	line := layout.Ends(first.Format(form), last.Format(form), width)
	if at := width/2 - len(form)/2; at > len(form)+1 {
		line = line[:at] + first.Add(last.Sub(first)/2).Format(form) + line[at+len(form):]
	}
	return line
}
