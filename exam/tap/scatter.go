package tap

import (
	"fmt"
	"math"
)

// LeastPairs is the fewest taps that a personal scatter is measured from; 30 give it to ±13 % (1/√(2n)).
const LeastPairs = 10

// leadIn taps at the start are reactions, later ones anticipate (Repp 2005, from memory): they are left out.
const leadIn = 2

// Scatter measures how steadily a person taps: taps and beats are times in s on one clock, both rising. Every tap goes
// with its nearest beat if that is within half the gap between beats; of two taps on one beat the nearer stays. The
// first two pairs are left out. sigma is the SD of tap − beat and bias its mean in s, n the pairs used.
func Scatter(taps, beats []float64) (sigma, bias float64, n int, err error) {
	for _, list := range [][]float64{taps, beats} {
		for i, t := range list {
			if why := wrong(t); why != "" {
				return 0, 0, 0, fmt.Errorf("time %d %s", i+1, why)
			}
			if i > 0 && t < list[i-1] {
				return 0, 0, 0, fmt.Errorf("time %d (%g s) is before time %d (%g s)", i+1, t, i, list[i-1])
			}
		}
	}
	off := pairs(taps, beats)
	if len(off) > leadIn {
		off = off[leadIn:]
	} else {
		off = nil
	}
	n = len(off)
	if n < LeastPairs {
		return 0, 0, n, fmt.Errorf("%d taps go with a beat: at least %d are needed after the first two", n, LeastPairs)
	}
	bias = mean(off)
	sum := 0.0
	for _, d := range off {
		sum += (d - bias) * (d - bias)
	}
	return math.Sqrt(sum / float64(n-1)), bias, n, nil
}

// pairs returns tap − beat for every beat that has a tap.
func pairs(taps, beats []float64) []float64 {
	var off []float64
	i := 0
	for k, b := range beats {
		reach := math.Inf(1)
		if k > 0 {
			reach = b - beats[k-1]
		}
		if k+1 < len(beats) {
			reach = min(reach, beats[k+1]-b)
		}
		if math.IsInf(reach, 1) {
			return nil
		}
		best, found := 0.0, false
		for ; i < len(taps) && taps[i] < b+reach/2; i++ {
			d := taps[i] - b
			if d >= -reach/2 && (!found || math.Abs(d) < math.Abs(best)) {
				best, found = d, true
			}
		}
		if found {
			off = append(off, best)
		}
	}
	return off
}
