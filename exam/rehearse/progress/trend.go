package progress

import (
	"math"
	"slices"
)

// Direction says where a row of numbers goes, as far as it may be said.
type Direction string

// The directions; of every measure less is better.
const (
	TooFew  Direction = "too few to say"
	NoClear Direction = "no clear change"
	Better  Direction = "getting better"
	Worse   Direction = "getting worse"
)

// Lately is how many rehearsals a trend and a summary look back at.
const Lately = 10

// certain is the chance, of one side, under which a row of numbers is called rising or falling.
const certain = 0.05

// exactUpTo is the longest row of which every order is tried; 7 have 5040.
const exactUpTo = 7

// Trend is where a measure goes over a person's newest rehearsals.
type Trend struct {
	Direction Direction `json:"direction"`
	Of        int       `json:"of"` // rehearsals that have the number
	// Slope is the change from one rehearsal to the next: the median over all pairs (Theil 1950, Sen 1968). Null with fewer
	// than two.
	Slope *float64 `json:"slope"`
	// P is the chance that numbers without any trend are in an order that rises, or falls, as much (Mann 1945, Kendall
	// 1970). Null with fewer than two.
	P *float64 `json:"p"`
}

// TrendOf reads a row of numbers, the oldest first, of which less is better. Only the newest Lately count.
func TrendOf(values []float64) Trend {
	if len(values) > Lately {
		values = values[len(values)-Lately:]
	}
	t := Trend{Direction: TooFew, Of: len(values)}
	if len(values) < 2 {
		return t
	}
	s, p := score(values), chance(values)
	slope := slope(values)
	t.Slope, t.P = &slope, &p
	switch {
	case len(values) < 4: // three in order come by chance once in six times
	case p >= certain:
		t.Direction = NoClear
	case s < 0:
		t.Direction = Better
	default:
		t.Direction = Worse
	}
	return t
}

// score is the pairs that rise minus the pairs that fall.
func score(values []float64) int {
	s := 0
	for i, a := range values {
		for _, b := range values[i+1:] {
			switch {
			case b > a:
				s++
			case b < a:
				s--
			}
		}
	}
	return s
}

// chance is the part of all orders of the same numbers whose score is at least as far from 0 on the same side: counted
// one by one in short rows, by the normal law with ties and continuity (Kendall 1970, chapter 4) in longer ones.
func chance(values []float64) float64 {
	s := score(values)
	if s == 0 {
		return 1
	}
	if len(values) <= exactUpTo {
		far, all := 0, 0
		orders(slices.Clone(values), 0, func(v []float64) {
			all++
			if other := score(v); s > 0 && other >= s || s < 0 && other <= s {
				far++
			}
		})
		return float64(far) / float64(all)
	}
	z := (math.Abs(float64(s)) - 1) / math.Sqrt(spread(values))
	return math.Erfc(z/math.Sqrt2) / 2
}

// orders calls fn with every order of the values from the i-th on.
func orders(v []float64, i int, fn func([]float64)) {
	if i >= len(v)-1 {
		fn(v)
		return
	}
	for k := i; k < len(v); k++ {
		v[i], v[k] = v[k], v[i]
		orders(v, i+1, fn)
		v[i], v[k] = v[k], v[i]
	}
}

// spread is the variance of the score of numbers without a trend, with groups of equal ones.
func spread(values []float64) float64 {
	part := func(n int) float64 { return float64(n * (n - 1) * (2*n + 5)) }
	equal := map[float64]int{}
	for _, v := range values {
		equal[v]++
	}
	out := part(len(values))
	for _, n := range equal {
		out -= part(n)
	}
	return out / 18
}

// slope is the median of the slopes of all pairs.
func slope(values []float64) float64 {
	var all []float64
	for i, a := range values {
		for k, b := range values[i+1:] {
			all = append(all, (b-a)/float64(k+1))
		}
	}
	return median(all)
}

// median is the middle value, or the mean of the two in the middle; NaN of none.
func median(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}
