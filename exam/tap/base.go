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
	doubleS = 0.36
	// Where the gaps vary more than this over T0 nothing is taken for a double: in an irregular heart short gaps are beats.
	doubleSpread = 0.12
	mergeNear    = 0.25 // two gaps are one usual gap if their sum is within 0.25·T0 of it
	madToSD      = 1.4826
	mostGaps     = 2000 // gaps that the usual gap is taken from
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
	if len(w.gap) < leastGaps {
		return base{}
	}
	w.sample()
	n := len(w.a)
	slices.Sort(w.a)
	h := (n + 1) / 2
	at, best := 0, math.Inf(1)
	for i := 0; i+h <= n; i++ {
		if ratio := w.a[i+h-1] / w.a[i]; ratio < best {
			at, best = i, ratio
		}
	}
	t0 := (w.a[at+(h-1)/2] + w.a[at+h/2]) / 2
	// A pause after every second beat makes half of the gaps twice as long as the other half: take the shorter.
	lo, _ := slices.BinarySearch(w.a, 0.35*t0)
	hi, _ := slices.BinarySearch(w.a, 0.65*t0)
	if 3*(hi-lo) >= n {
		t0 /= 2
	}
	for range 3 {
		w.fold(w.a, t0)
		t0 = median(w.b)
	}
	w.fold(w.a, t0)
	for j, x := range w.b {
		w.b[j] = math.Abs(x - t0)
	}
	return base{t0: t0, s: madToSD * median(w.b), ok: true}
}

// sample copies the gaps to a. Of more than mostGaps it takes that many, spread over the whole count by steps of the
// golden section, which no repeating pattern of pauses falls in with.
func (w *work) sample() {
	n := len(w.gap)
	if n <= mostGaps {
		w.a = append(w.a[:0], w.gap...)
		return
	}
	w.a = w.a[:0]
	for x := 0.0; len(w.a) < mostGaps; x += math.Phi - 1 {
		w.a = append(w.a, w.gap[int((x-math.Floor(x))*float64(n))])
	}
}

// fold fills b with every gap divided by its whole number of usual gaps.
func (w *work) fold(gaps []float64, t0 float64) {
	out, inv := slices.Grow(w.b[:0], len(gaps)), 1/t0
	for _, g := range gaps {
		if r := g * inv; r < 1.5 {
			out = append(out, g)
		} else {
			out = append(out, g/math.Floor(r+0.5))
		}
	}
	w.b = out
}

// doubles removes the second press of a finger that struck twice and reports whether it removed any. Of the two taps
// the one goes whose removal leaves the gaps on both sides nearest to the usual one, and only if both are then near it:
// two beats that were tapped too close to each other leave a gap too long.
func (w *work) doubles(b base, r *Result) bool {
	limit := min(doubleTimes*b.t0, doubleS)
	if !b.ok || b.s > doubleSpread*b.t0 || slices.Min(w.gap) >= limit {
		return false
	}
	at, no := w.at, w.no
	gap := func(from, to int) float64 { // at the ends there is none: take the usual one
		if from < 0 || to >= len(at) {
			return b.t0
		}
		return at[to] - at[from]
	}
	after := func(before, stays, next int) float64 { // the larger distance from T0 if only this tap stays between
		return max(math.Abs(gap(before, stays)-b.t0), math.Abs(gap(stays, next)-b.t0))
	}
	k := 0 // at[:k] is kept
	for i := range at {
		if k > 0 && at[i]-at[k-1] < limit {
			gone, off := i, after(k-2, k-1, i+1)
			if other := after(k-2, i, i+1); other < off {
				gone, off = k-1, other
			}
			if off <= mergeNear*b.t0 {
				r.Removed = append(r.Removed, Removed{no[gone], at[gone], "double: too soon after the tap beside it"})
				if gone != i {
					at[k-1], no[k-1] = at[i], no[i]
				}
				continue
			}
		}
		at[k], no[k] = at[i], no[i]
		k++
	}
	w.at, w.no = at[:k], no[:k]
	w.measure()
	return len(w.at) < len(at)
}
