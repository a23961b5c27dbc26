package chart

import (
	"cmp"
	"slices"
	"time"

	"loosebox/exam/compare"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// yearApart is the gap over which a line is dashed: nobody knows what was between.
const yearApart = 366 * 24 * time.Hour

// values draws the trace, then the points over it: filled where a value is usual, open where it stands out, with the sign
// of its level beside it. The value is written at the first, the last, the highest, and, where there is room, at each.
func (p *plot) values(c Canvas) {
	for i := 1; i < len(p.points); i++ {
		a, b := p.points[i-1], p.points[i]
		pen := Trace
		if b.At.Sub(a.At) > yearApart {
			pen = Apart
		}
		c.Polyline([][2]float64{{p.column(a.At), p.row(a.Value)}, {p.column(b.At), p.row(b.Value)}}, pen)
	}
	order := slices.SortedFunc(slices.Values(p.points), func(a, b compare.TrendPoint) int { return cmp.Compare(a.Level, b.Level) })
	for _, v := range order {
		x, y := p.column(v.At), p.row(v.Value)
		if v.Level <= ranges.LevelUsual {
			c.Circle(x, y, 2, true, Mark)
			continue
		}
		c.Circle(x, y, 3, false, Loud)
	}
	p.written(c)
}

// written writes values at their points, the most telling first; one that would lie on another is left out.
func (p *plot) written(c Canvas) {
	n := len(p.points)
	if n == 0 {
		return
	}
	top := 0
	for i, v := range p.points {
		if v.Value > p.points[top].Value {
			top = i
		}
	}
	order := []int{n - 1, 0, top}
	for i := range p.points {
		order = append(order, i)
	}
	type box struct{ x0, x1, y0, y1 float64 }
	var taken []box
	seen, done := map[int]bool{}, map[int]bool{}
	for rank, i := range order {
		if seen[i] || rank > 2 && n > 8 {
			continue
		}
		seen[i] = true
		v := p.points[i]
		text := notation.FormatNumber(v.Value, 1)
		if sign := v.Level.Sign(); sign != "" {
			text = sign + " " + text
		}
		wide := wideOf(text)
		x, y := p.column(v.At), p.row(v.Value)-5
		if below := p.row(v.Value) + letters + 4; y-letters < p.y-4 || p.ownCrosses(y-letters, y) && !p.ownCrosses(below-letters, below) && below < p.y+p.h {
			y = below
		}
		x = min(max(x, p.x+wide/2+2), p.x+p.w-wide/2)
		b := box{x - wide/2, x + wide/2, y - letters, y}
		if slices.ContainsFunc(taken, func(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 }) {
			continue
		}
		taken, done[i] = append(taken, b), true
		c.Text(x, y, letters, Middle, text)
	}
	for i, v := range p.points { // the sign of a level is never left out
		if sign := v.Level.Sign(); sign != "" && !done[i] {
			c.Text(p.column(v.At), p.row(v.Value)-5, letters, Middle, sign)
		}
	}
}

// wideOf is about how wide a text is, points.
func wideOf(text string) float64 { return float64(len([]rune(text))) * letters * 0.6 }

// ownCrosses says that a line of the horse's own range lies between two heights.
func (p *plot) ownCrosses(from, to float64) bool {
	own := p.s.Own
	return own != nil && slices.ContainsFunc([]float64{own.Low, own.High}, func(v float64) bool { return p.row(v) > from && p.row(v) < to })
}
