package chart

import (
	"math"
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/notation"
)

// Series is one finding over a horse's visits.
type Series struct {
	Title  string
	Unit   notation.Unit
	Points []compare.TrendPoint // oldest first, at least one
	Own    *exam.OwnRange       // nil where the horse has too few visits
}

// Legend says how to read a chart.
const Legend = "Band: usual for this kind of horse at that age. Dashed: this horse's range. An open ring is out of range. A dashed line joins visits more than a year apart. A second panel shows visits that are close together."

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

// Draw draws a series with its upper left corner at x, y: one panel, or two where the newest visits lie too close together
// to be told apart beside years.
func Draw(c Canvas, x, y float64, s Series) {
	c.Text(x, y+9, 8.5, Start, s.title())
	inner := Width - left - right
	n := len(s.cluster())
	if n == 0 {
		newPlot(x, y, inner, s, s.Points).draw(c, true)
		return
	}
	const gap = 22.0
	wide := (inner - gap) * 0.55
	newPlot(x, y, wide, s, s.Points[:len(s.Points)-n]).draw(c, true)
	newPlot(x+wide+gap, y, inner-gap-wide, s, s.Points[len(s.Points)-n:]).draw(c, false)
	mid := x + left + wide + gap/2
	for _, off := range []float64{-2, 2} { // the break in time
		c.Polyline([][2]float64{{mid + off - 3, y + Height - bottom + 4}, {mid + off + 3, y + Height - bottom - 4}}, Axis)
	}
}

// clusterSpan is how long the newest visits that get a panel of their own may span: the looks of an illness.
const clusterSpan = 72 * time.Hour

// cluster are the newest visits that would stand on one another beside the others: three or more within clusterSpan, on a
// twelfth of all time at most, with others before them.
func (s Series) cluster() []compare.TrendPoint {
	n := len(s.Points)
	if n < 4 {
		return nil
	}
	last := s.Points[n-1].At
	from := n - 1
	for from > 0 && last.Sub(s.Points[from-1].At) <= clusterSpan {
		from--
	}
	all := last.Sub(s.Points[0].At)
	if n-from < 3 || from == 0 || last.Sub(s.Points[from].At) > all/12 {
		return nil
	}
	return s.Points[from:]
}

// plot is one panel: its points, over the values that all panels of the series share.
type plot struct {
	s         Series
	points    []compare.TrendPoint
	x, y      float64 // upper left of the inner frame
	w, h      float64
	low, high float64
	step      float64
	from, to  time.Time
}

func newPlot(x, y, w float64, s Series, points []compare.TrendPoint) *plot {
	p := &plot{s: s, points: points, x: x + left, y: y + top, w: w, h: Height - top - bottom}
	p.low, p.high = math.Inf(1), math.Inf(-1)
	for _, v := range s.extent() {
		p.low, p.high = math.Min(p.low, v), math.Max(p.high, v)
	}
	if p.high-p.low < 1e-9*math.Max(math.Abs(p.high), 1) {
		p.low, p.high = p.low-1, p.high+1
	}
	p.step = Tick((p.high - p.low) / 4)
	room := (p.high - p.low) * 0.14 // the values are written at their points
	p.low, p.high = p.low-room, p.high+room
	if n := len(points); n > 0 {
		p.from, p.to = points[0].At, points[n-1].At
	}
	return p
}

// draw draws the panel; numbers at the axis only where they are wanted.
func (p *plot) draw(c Canvas, numbers bool) {
	p.band(c)
	p.axis(c, numbers)
	p.own(c)
	p.values(c)
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

func (s Series) title() string {
	if s.Unit == notation.NoUnit {
		return s.Title
	}
	return s.Title + ", " + string(s.Unit)
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
	for i, point := range p.points {
		if point.Low == nil && point.High == nil {
			continue
		}
		from, to := p.x, p.x+p.w
		if i > 0 {
			from = (p.column(p.points[i-1].At) + p.column(point.At)) / 2
		}
		if i+1 < len(p.points) {
			to = (p.column(point.At) + p.column(p.points[i+1].At)) / 2
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

func (p *plot) axis(c Canvas, numbers bool) {
	c.Polyline([][2]float64{{p.x, p.y}, {p.x, p.y + p.h}, {p.x + p.w, p.y + p.h}}, Axis)
	decimals := max(int(math.Ceil(-math.Log10(p.step)-1e-9)), 0)
	for v := math.Ceil(p.low/p.step) * p.step; v <= p.high; v += p.step {
		c.Polyline([][2]float64{{p.x - 3, p.row(v)}, {p.x, p.row(v)}}, Axis)
		if numbers {
			c.Text(p.x-5, p.row(v)+letters/3, letters, End, notation.FormatNumber(v, decimals))
		}
	}
	base := p.y + p.h + 10
	dates := notation.NewDates(p.from, p.to)
	if p.to.Sub(p.from) <= clusterSpan && p.to.After(p.from) { // hours of a few days
		for i, form := range []string{"2 Jan", "15:04"} { // side by side they would lie on each other
			y := base - 2 + float64(i)*letters
			c.Text(p.x, y, letters, Start, p.from.Format(form))
			c.Text(p.x+p.w, y, letters, End, p.to.Format(form))
		}
		return
	}
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
