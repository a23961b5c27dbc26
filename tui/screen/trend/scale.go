package trend

import (
	"math"

	"loosebox/exam/notation"
	"loosebox/exam/report/chart"
	plots "loosebox/tui/chart"
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

// dot is where a value is drawn in the dots of a column, 0 at the top.
func (s scale) dot(v float64) int {
	fine := s
	fine.rows *= plots.DotsHigh
	return fine.row(v)
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
