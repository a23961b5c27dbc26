package tap

import (
	"math"

	"loosebox/exam"
)

// Numbers of the evenness rule for quick hearts (derived; checked by Acceptance lines 23 to 26). Where beats follow each
// other within a second, the finger scatters as much as an irregular heart changes. The two are told apart by how
// neighboring gaps go: one tap late makes one gap long and the next one short, an irregular heart does not. All
// variances are in units of the usual gap squared.
const (
	quickEvenS = 1.0 // s, usual gap below which this rule holds

	ownIrregular = 0.014 // variance of the heart's own from which it is irregular: 12 % of the gap
	pastHurried  = 0.010 // or variance beyond what a hurried finger can make: 10 % of the gap
	ownEven      = 0.020 // variance of its own below which a heart is even: an irregular one has 0.03 and more
	totalEven    = 0.022 // variance, scatter and all, below which it is even

	errUnknown = 1.9 // standard error of the own variance in total/√n, the person's scatter unknown
	errKnown   = 1.6 // and known
	errMargin  = 1.3 // standard errors that an even heart keeps below ownEven

	leastShare   = 0.4  // an irregular heart makes at least this part of the variance,
	unknownShare = 0.65 // and this part where only neighboring gaps tell it from scatter,
	manyGaps     = 80   // for which so many gaps are needed
	manyGapsS    = 0.6  // s, below this usual gap
	hopelessS    = 0.48 // s, usual gap below which an unknown scatter cannot be told apart
	mostPersonal = 0.10 // personal scatter over the usual gap above which it is no help
)

// variance is how much the folded gaps vary: in all, and without what scatter makes, γ0 + 2γ1 (Wing & Kristofferson
// 1973, as restated in Doumas & Wing 2007).
type variance struct{ total, own float64 }

func (w *work) variance(t0 float64) variance {
	w.fold(w.gap, t0)
	m, c0, c1 := mean(w.b), 0.0, 0.0
	for j, x := range w.b {
		c0 += (x - m) * (x - m)
		if j > 0 {
			c1 += (x - m) * (w.b[j-1] - m)
		}
	}
	n := float64(len(w.b)) * t0 * t0
	return variance{total: c0 / n, own: (c0 + 2*c1) / n}
}

// quick says Irregular, Even or TooFast of a heart whose beats follow each other within a second. sigma is the person's
// scatter in s, 0 where it is unknown; manyOff says that enough gaps are far from the usual one.
func (w *work) quick(t0, sigma float64, manyOff bool) exam.Evenness {
	v, n := w.variance(t0), float64(len(w.gap))
	own, err := v.own, errUnknown*v.total/math.Sqrt(n)
	irregular := w.beyondScatter(v, t0)
	if s := sigma / t0; s > 0 && s <= mostPersonal {
		own, err = v.total-2*s*s, errKnown*v.total/math.Sqrt(n)
		irregular = own > ownIrregular && v.own > leastShare*v.total
	}
	switch {
	case manyOff && irregular:
		return Irregular
	case v.total < totalEven, own+errMargin*err < ownEven:
		return Even
	}
	return TooFast
}

// beyondScatter says that no finger makes the gaps vary so: it would be more than hurried, or neighboring gaps would go
// against each other.
func (w *work) beyondScatter(v variance, t0 float64) bool {
	hurried := sigmaHurried / t0
	if v.total-2*hurried*hurried > pastHurried && v.own > leastShare*v.total {
		return true
	}
	if t0 < hopelessS || t0 < manyGapsS && len(w.gap) < manyGaps {
		return false
	}
	return v.own > ownIrregular && v.own > unknownShare*v.total
}
