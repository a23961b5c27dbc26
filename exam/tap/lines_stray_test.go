package tap

import (
	"fmt"
	"math"
	"slices"
)

// idealHalf is the half-width, in s·beats, of the ideal 95 % band of a rate that is taken from first tap to last tap, as
// every rate here is, whatever the heart does in between. The error of the period is (e_n − e_0)/n with e_0 and e_n two
// independent draws from the mixture of scatters, so the band is the 0.95 quantile of |e_n − e_0|, over n. Whoever knows
// the mixture exactly could show this one and no narrower; nobody does. e_n − e_0 is normal given which of the two
// strayed, with variance v1 + v2: the quantile is found by halving.
func idealHalf(s float64) float64 {
	outside := func(x float64) float64 {
		p, tail := strayShare, func(v float64) float64 { return math.Erfc(x / math.Sqrt(2*v)) }
		return (1-p)*(1-p)*tail(2*s*s) + 2*p*(1-p)*tail(s*s+strayS*strayS) + p*p*tail(2*strayS*strayS)
	}
	low, high := 0.0, 2.0
	for range 60 {
		if mid := (low + high) / 2; outside(mid) > 0.05 {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// boundHalf is 1.96·√2 times the Cramér-Rao bound of the place of one beat by one tap, 1/√I with I = ∫ f′²/f of the
// mixture: no unbiased estimate that knows nothing of the rhythm has a smaller error. It is printed beside the ideal band,
// which is wider because the mixture has heavy tails.
func boundHalf(s float64) float64 {
	info, step := 0.0, s/200
	for x := -1.0; x < 1; x += step {
		near, far := (1-strayShare)*normal(x, s), strayShare*normal(x, strayS)
		slope := -x * (near/(s*s) + far/(strayS*strayS))
		if near+far > 1e-300 {
			info += slope * slope / (near + far) * step
		}
	}
	return z975 * math.Sqrt(2/info)
}

func normal(x, s float64) float64 { return math.Exp(-x*x/(2*s*s)) / (s * math.Sqrt(2*math.Pi)) }

// strayCell is one rate, window and scatter over all runs, with widths as shares of the ideal one.
type strayCell struct {
	rate, window, s float64
	finger          bool
	held            share
	width, bound    float64 // median width over the ideal one, and over the bound
}

func (c strayCell) String() string {
	free := ""
	if !c.finger {
		free = ", any order"
	}
	return fmt.Sprintf("%g/min %g s σ %g ms%s", c.rate, c.window, 1000*c.s, free)
}

// strayGrid taps a sinus rhythm of CV 3.5 % at every rate. A hurried scatter of 80 ms is run with the limit of a finger
// only: at 140/min it would make presses in a twentieth of a second, which no hand does.
func strayGrid() []*strayCell {
	var cells []*strayCell
	for _, rate := range []float64{40, 60, 80, 100, 120, 140} {
		for _, window := range []float64{15, 30, 60} {
			for _, s := range []float64{0.02, 0.04, 0.08} {
				cells = append(cells, &strayCell{rate: rate, window: window, s: s, finger: true})
				if s < 0.08 && rate > 80 {
					cells = append(cells, &strayCell{rate: rate, window: window, s: s})
				}
			}
		}
	}
	spread(len(cells), func(i int) {
		c, g := cells[i], newSim(21, uint64(i))
		widths := make([]float64, 0, runsACell)
		for range runsACell {
			beats := g.beats(sinus(0.035, 0.3), 60/g.near(c.rate), c.window)
			r, _ := Evaluate(g.straying(beats, c.s, c.finger), Options{})
			b := trueRate(beats)
			c.held.add(math.Abs(r.Rate-b) <= r.HalfWidth)
			widths = append(widths, r.HalfWidth/(b*b/60/float64(len(beats)-1)))
		}
		half := median(slices.Clone(widths))
		c.width, c.bound = half/idealHalf(c.s), half/boundHalf(c.s)
	})
	return cells
}

func strayHoldsLine(cells []*strayCell) verdict {
	byRate, w, ok := map[float64]share{}, newWorst(), true
	for _, c := range cells {
		s := byRate[c.rate]
		byRate[c.rate] = share{s.hit + c.held.hit, s.all + c.held.all}
		w.keep("cell", c.String(), c.held, true)
		ok = ok && c.held.atLeast(0.94)
	}
	for rate, s := range byRate {
		ok = ok && s.atLeast(0.95)
		w.keep("rate", fmt.Sprintf("%g/min", rate), s, true)
	}
	return verdict{fmt.Sprintf("%s (%s); lowest cell %s (%s)", w.at["rate"].pc(), w.on["rate"], w.at["cell"].pc(), w.on["cell"]), ok}
}

func strayWidthLine(cells []*strayCell) verdict {
	worst, at, bound := 0.0, "", 0.0
	for _, c := range cells {
		if c.width > worst {
			worst, at = c.width, c.String()
		}
		bound = max(bound, c.bound)
	}
	limit := 1.5
	if runsACell < 2000 {
		limit = 1.6
	}
	return verdict{fmt.Sprintf("%.2f at most (%s); %.2f of the Cramér-Rao bound", worst, at, bound), worst <= limit}
}
