package judge

import (
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// ownWidth is the half-width of an own range in standard deviations, farWidth where a value is far outside it. For
// values that scatter normally two deviations hold about 95 of 100.
const (
	ownWidth = 2
	farWidth = 3
)

// madToSD turns the median absolute deviation of normal values into their standard deviation: 1/Φ⁻¹(3/4).
const madToSD = 1.4826

// fewVisits corrects the median absolute deviation of n values, which is too small on average where n is: Croux and
// Rousseeuw 1992 (from memory; a test finds the same by simulation).
func fewVisits(n int) float64 {
	small := [...]float64{4: 1.363, 5: 1.206, 6: 1.200, 7: 1.140, 8: 1.129, 9: 1.107}
	if n < len(small) {
		return small[n]
	}
	return float64(n) / (float64(n) - 0.8)
}

// spread is the median and ownWidth robust standard deviations; it writes the distances from the median over the values.
func spread(values []float64) (mid, half float64) {
	mid = exam.Median(values)
	for i, x := range values {
		values[i] = math.Abs(x - mid)
	}
	return mid, ownWidth * madToSD * fewVisits(len(values)) * exam.Median(values)
}

// leastHalf is the least half-width of an own range, so that equal readings do not make the next one stand out:
// temperature 0.5 C, the mean daily swing of adult horses (CIRC, published); a rate 4 /min, the step of a count of 15 s
// times four (derived); a time 0.5 s, half of the one-second grades of refill (AERA, published); a score 1 point; a
// weight 4 %, twice what a girth read 1 % wrong makes of it (derived); anything else 2 %.
func leastHalf(u notation.Unit, mid float64) float64 {
	switch u {
	case notation.Celsius:
		return 0.5
	case notation.Fahrenheit:
		return 0.9
	case notation.PerMinute:
		return 4
	case notation.Seconds:
		return 0.5
	case notation.Points:
		return 1
	case notation.Kilograms, notation.Pounds:
		return 0.04 * math.Abs(mid)
	case notation.NoUnit, notation.Centimetre, notation.Inch, notation.Hands:
	}
	return 0.02 * math.Abs(mid)
}

// changesWithContext says that the unit is one of a rate or a temperature.
func changesWithContext(u notation.Unit) bool {
	return u == notation.PerMinute || u == notation.Celsius || u == notation.Fahrenheit
}

// far says on which side a value lies far outside an own range; empty where it does not.
func far(r *exam.OwnRange, v float64) string {
	if r == nil {
		return ""
	}
	reach := math.Max(r.High-r.Median, r.Median-r.Low) * farWidth / ownWidth
	switch {
	case v > r.Median+reach+slack:
		return "above"
	case v < r.Median-reach-slack:
		return "below"
	}
	return ""
}

// slack is far below any instrument's step and far above the noise of floats.
const slack = 1e-6
