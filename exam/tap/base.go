package tap

import (
	"math"
	"slices"
)

// Numbers of the gap rules (derived; checked by Acceptance). T0 is the usual gap and s its robust spread.
const (
	leastGaps   = 4    // gaps below which nothing is said about single ones
	longTimes   = 1.5  // long: above 1.5·T0 and above T0 + 4s
	earlyTimes  = 0.7  // early: below 0.7·T0 and below T0 − 4s
	spreads     = 4.0  // the 4 of both
	doubleTimes = 0.35 // double: below 0.35·T0 and below doubleS
	// doubleS: two beats of a resting heart are not closer than this, a finger that strikes twice is (both assumed).
	// Without it a short gap of an irregular heart would be taken for a double and cost a beat.
	doubleS   = 0.36
	mergeNear = 0.25 // two gaps are one usual gap if their sum is within 0.25·T0 of it
	madToSD   = 1.4826
)

// base is the usual gap t0 and its robust spread s in seconds; ok is false with too few gaps.
type base struct {
	t0, s float64
	ok    bool
}

// base finds the usual gap: the median of the half of the gaps with least spread (as a ratio), then three times the
// median of gap/m with m = the whole number of usual gaps nearest to each gap. Missed taps, doubles and pauses
// do not move it while they are the smaller part.
func (w *work) base() base {
	n := len(w.gap)
	if n < leastGaps {
		return base{}
	}
	w.a = append(w.a[:0], w.gap...)
	slices.Sort(w.a)
	h := n/2 + 1
	at, best := 0, math.Inf(1)
	for i := 0; i+h <= n; i++ {
		if ratio := w.a[i+h-1] / w.a[i]; ratio < best {
			at, best = i, ratio
		}
	}
	t0 := (w.a[at+(h-1)/2] + w.a[at+h/2]) / 2
	// A pause after every second beat makes half of the gaps twice as long as the other half: take the shorter.
	lo, _ := slices.BinarySearch(w.a, 0.42*t0)
	hi, _ := slices.BinarySearch(w.a, 0.58*t0)
	if 3*(hi-lo) >= n {
		t0 /= 2
	}
	for range 3 {
		w.fold(t0)
		t0 = median(w.b)
	}
	w.fold(t0)
	for j, x := range w.b {
		w.b[j] = math.Abs(x - t0)
	}
	return base{t0: t0, s: madToSD * median(w.b), ok: true}
}

// fold fills b with every gap divided by its whole number of usual gaps.
func (w *work) fold(t0 float64) {
	w.b = w.b[:0]
	inv := 1 / t0
	for _, g := range w.gap {
		if r := g * inv; r < 1.5 {
			w.b = append(w.b, g)
		} else {
			w.b = append(w.b, g/math.Floor(r+0.5))
		}
	}
}

// doubles removes the second press of a finger that struck twice and reports whether it removed any. Of the two taps
// the one goes whose removal leaves the gaps on both sides nearest to the usual one.
func (w *work) doubles(b base, r *Result) bool {
	limit := min(doubleTimes*b.t0, doubleS)
	if !b.ok || slices.Min(w.gap) >= limit {
		return false
	}
	at, no := w.at, w.no
	off := func(from, to int) float64 { // how far a gap is from the usual one; at the ends there is none
		if from < 0 || to >= len(at) {
			return 0
		}
		return math.Abs(at[to] - at[from] - b.t0)
	}
	k := 0 // at[:k] is kept
	for i := range at {
		if k == 0 || at[i]-at[k-1] >= limit {
			at[k], no[k] = at[i], no[i]
			k++
			continue
		}
		gone := i
		if off(k-2, i)+off(i, i+1) < off(k-2, k-1)+off(k-1, i+1) {
			gone = k - 1
		}
		r.Removed = append(r.Removed, Removed{no[gone], at[gone], "double: too soon after the tap beside it"})
		if gone != i {
			at[k-1], no[k-1] = at[i], no[i]
		}
	}
	w.at, w.no = at[:k], no[:k]
	w.measure()
	return true
}
