package tap

import (
	"math"

	"loosebox/exam"
)

// Numbers of the evenness rules, all derived and checked by Acceptance. Published cut-offs of heart-rate variability cannot
// be used on taps: a scatter σ adds 6σ² to the mean squared change. The least number of gaps is 30 s at 24 per minute: a
// slow heart in which every fourth beat does not come. Quick hearts have a rule of their own, in quick.go.
const (
	evenGaps = 12   // least gaps, and
	evenS    = 25.0 // s, least time
	offWhole = 0.20 // a gap this far from a whole number of usual gaps is off
	offShare = 0.22 // share of gaps off, from; 0.25 finds only 86 % of independent gaps in 30 s
	offMove  = 0.10 // and root mean squared change of folded gaps over T0, above
	// Scatter in s taken where the person's own is unknown: the hurried value where too little would call a shaky
	// finger irregular, the ordinary one for waves, and there no more than this part of the usual gap: in a quick heart a
	// steady finger would else be seen as a wave.
	sigmaHurried = 0.08
	sigmaUsual   = 0.04
	usualOfGap   = 0.03

	waveMove  = 0.0018 // smooth part of the variance of folded gaps over T0²: 4 % changes
	waveShare = 0.42   // and its share of the whole variance
)

// evenness says one of the six words. Breaths always get TooFew: no rule for them has been checked, their gaps vary
// by 10–25 % in a quiet animal and a minute holds a dozen.
func (w *work) evenness(b base, o Options, r Result) exam.Evenness {
	n := len(w.gap)
	if o.What != Heart || !b.ok || n < evenGaps || r.LastS-r.FirstS < evenS {
		return TooFew
	}
	w.fold(w.gap, b.t0)
	x := w.b
	off, move := 0, 0.0
	for j, g := range w.gap {
		times := g / b.t0
		if math.Abs(times-max(1, math.Round(times))) > offWhole {
			off++
		}
		if j > 0 {
			move += (x[j] - x[j-1]) * (x[j] - x[j-1])
		}
	}
	jitter := orElse(o.Sigma, sigmaHurried)
	move = math.Sqrt(max(0, move/float64(n-1)-6*jitter*jitter)) / b.t0
	said, manyOff := Even, float64(off) >= offShare*float64(n)
	if b.t0 < quickEvenS {
		said = w.quick(b.t0, o.Sigma, manyOff)
	} else if manyOff && move > offMove {
		said = Irregular
	}
	switch {
	case said != Even:
		return said
	case r.Pauses > 0:
		return EvenWithPauses
	case waves(x, b.t0, min(orElse(o.Sigma, sigmaUsual), sigmaUsual, usualOfGap*b.t0)): // a larger one would see waves in noise
		return SpeedingAndSlowing
	default:
		return Even
	}
}

// waves: neighbouring gaps move together, or go against those two beats on, by more than jitter can do. For a wave of
// 4 to 8 beats the lag-1 minus the lag-2 covariance is between 0.7 and 1.1 of its variance; jitter adds −σ² at lag 1.
func waves(x []float64, t0, sigma float64) bool {
	m := mean(x)
	var c0, c1, c2 float64
	for j := range x {
		d := x[j] - m
		c0 += d * d
		if j > 0 {
			c1 += d * (x[j-1] - m)
		}
		if j > 1 {
			c2 += d * (x[j-2] - m)
		}
	}
	n := float64(len(x))
	c0, c1, c2 = c0/n, c1/n, c2/n
	smooth := max(c1+sigma*sigma, c1+sigma*sigma-c2)
	return smooth > waveMove*t0*t0 && smooth > waveShare*c0
}

func orElse(v, unknown float64) float64 {
	if v > 0 {
		return v
	}
	return unknown
}
