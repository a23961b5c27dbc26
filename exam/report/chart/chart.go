package chart

import (
	"cmp"
	"math"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Series is one finding over a horse's visits.
type Series struct {
	Title  string
	Unit   notation.Unit
	Points []compare.Point // oldest first, at least one
	Own    *exam.OwnRange  // nil where the horse has too few visits
}

// Legend says how to read a chart.
const Legend = "Band: what is usual for this kind of horse at that age. Dashed: this horse's own range. An open ring stands out."

// Size of a chart, points.
const (
	Width  = 250.0
	Height = 120.0
)

// The frame around the plot, points, and the size of its letters.
const (
	left, right, top, bottom = 34.0, 12.0, 16.0, 16.0
	letters                  = 7.0
)

// Draw draws a series with its upper left corner at x, y.
func Draw(c Canvas, x, y float64, s Series) {
	p := newPlot(x, y, s)
	c.Text(x, y+9, 8.5, Start, p.title())
	p.band(c)
	p.axis(c)
	p.own(c)
	p.values(c)
}

type plot struct {
	s         Series
	x, y      float64 // upper left of the inner frame
	w, h      float64
	low, high float64
	step      float64
	from, to  time.Time
}

func newPlot(x, y float64, s Series) *plot {
	p := &plot{s: s, x: x + left, y: y + top, w: Width - left - right, h: Height - top - bottom}
	p.low, p.high = math.Inf(1), math.Inf(-1)
	for _, v := range s.extent() {
		p.low, p.high = math.Min(p.low, v), math.Max(p.high, v)
	}
	if p.high-p.low < 1e-9*math.Max(math.Abs(p.high), 1) {
		p.low, p.high = p.low-1, p.high+1
	}
	p.step = Tick((p.high - p.low) / 4)
	room := (p.high - p.low) * 0.08
	p.low, p.high = p.low-room, p.high+room
	if n := len(s.Points); n > 0 {
		p.from, p.to = s.Points[0].At, s.Points[n-1].At
	}
	return p
}

// extent are all values that the axis must hold.
func (s Series) extent() []float64 {
	var out []float64
	for _, p := range s.Points {
		out = append(out, p.Value)
		for _, edge := range []*float64{p.Low, p.High} {
			if edge != nil {
				out = append(out, *edge)
			}
		}
	}
	if s.Own != nil {
		out = append(out, s.Own.Low, s.Own.High)
	}
	return out
}

// Tick is the least of 1, 2 and 5 times a power of ten that is no smaller.
func Tick(least float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(least)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= least*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

func (p *plot) title() string {
	if p.s.Unit == notation.NoUnit {
		return p.s.Title
	}
	return p.s.Title + ", " + string(p.s.Unit)
}

// row is the height of a value on the page.
func (p *plot) row(v float64) float64 { return p.y + (p.high-v)/(p.high-p.low)*p.h }

// column is the place of a moment; a single visit stands in the middle.
func (p *plot) column(at time.Time) float64 {
	all := p.to.Sub(p.from)
	if all <= 0 {
		return p.x + p.w/2
	}
	return p.x + float64(at.Sub(p.from))/float64(all)*p.w
}

// band fills what is usual: each visit's range holds half way to its neighbours,
// because the range changes with the horse's class.
func (p *plot) band(c Canvas) {
	for i, point := range p.s.Points {
		if point.Low == nil && point.High == nil {
			continue
		}
		from, to := p.x, p.x+p.w
		if i > 0 {
			from = (p.column(p.s.Points[i-1].At) + p.column(point.At)) / 2
		}
		if i+1 < len(p.s.Points) {
			to = (p.column(point.At) + p.column(p.s.Points[i+1].At)) / 2
		}
		high, low := p.y, p.y+p.h
		if point.High != nil {
			high = p.row(*point.High)
		}
		if point.Low != nil {
			low = p.row(*point.Low)
		}
		c.Rect(from, high, to-from, low-high, Band)
	}
}

func (p *plot) axis(c Canvas) {
	c.Polyline([][2]float64{{p.x, p.y}, {p.x, p.y + p.h}, {p.x + p.w, p.y + p.h}}, Axis)
	decimals := max(int(math.Ceil(-math.Log10(p.step)-1e-9)), 0)
	for v := math.Ceil(p.low/p.step) * p.step; v <= p.high; v += p.step {
		c.Polyline([][2]float64{{p.x - 3, p.row(v)}, {p.x, p.row(v)}}, Axis)
		c.Text(p.x-5, p.row(v)+letters/3, letters, End, notation.FormatNumber(v, decimals))
	}
	base := p.y + p.h + 10
	dates := notation.NewDates(p.from, p.to)
	if !p.to.After(p.from) {
		c.Text(p.x+p.w/2, base, letters, Middle, dates.Show(p.from))
		return
	}
	c.Text(p.x, base, letters, Start, dates.Show(p.from))
	c.Text(p.x+p.w, base, letters, End, dates.Show(p.to))
}

// own draws the ends of the horse's own range.
func (p *plot) own(c Canvas) {
	if p.s.Own == nil {
		return
	}
	for _, v := range []float64{p.s.Own.Low, p.s.Own.High} {
		c.Polyline([][2]float64{{p.x, p.row(v)}, {p.x + p.w, p.row(v)}}, Own)
	}
}

// values draws the trace, then the points over it: filled where a value is usual,
// open where it stands out, with the sign of its level beside it.
func (p *plot) values(c Canvas) {
	trace := make([][2]float64, 0, len(p.s.Points))
	for _, v := range p.s.Points {
		trace = append(trace, [2]float64{p.column(v.At), p.row(v.Value)})
	}
	if len(trace) > 1 {
		c.Polyline(trace, Trace)
	}
	order := slices.SortedFunc(slices.Values(p.s.Points), func(a, b compare.Point) int { return cmp.Compare(a.Level, b.Level) })
	for _, v := range order {
		x, y := p.column(v.At), p.row(v.Value)
		if v.Level <= ranges.LevelUsual {
			c.Circle(x, y, 2, true, Mark)
			continue
		}
		c.Circle(x, y, 3, false, Loud)
		c.Text(x, y-5, letters, Middle, Sign(v.Level))
	}
}

// Sign is the sign of a level beside a value, as on the screens.
func Sign(l exam.Level) string {
	switch l {
	case ranges.LevelTell:
		return "!"
	case ranges.LevelRecheck:
		return "?"
	case ranges.LevelNote:
		return "o"
	case ranges.LevelUsual:
	}
	return ""
}
