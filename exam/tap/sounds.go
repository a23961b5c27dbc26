package tap

import (
	"math"
	"slices"
)

// Numbers of the rule for both heart sounds. Press jitter alone never brings the lag-1 correlation of gaps below −0.5
// (Wing & Kristofferson 1973, as restated in Doumas & Wing 2007).
const (
	soundsLag1  = -0.7
	soundsCV    = 0.15
	soundsGaps  = 6    // least gaps for the pattern
	systoleS    = 0.65 // s, the shorter gap is no longer than this; about 0.42 s at rest (from memory)
	twiceLow    = 1.7  // rate over the usual rate, from
	twiceHigh   = 2.3  // to, that raises the question where the two gaps are alike
	twiceGaps   = 8    // least gaps for that
	quarterPart = 4
)

// sounds looks for both heart sounds tapped in turn, asks, and leaves out every second sound when that is the answer.
// It reports whether the pattern is there and unanswered, so that the gap rules wait.
func (w *work) sounds(o Options, r *Result) bool {
	answer := o.Answers[0]
	inTurn := w.inTurn()
	if !inTurn && !w.twice(o.Usual) && answer != BothSounds {
		return false
	}
	n := len(w.gap)
	if n < 1 {
		return false
	}
	q := Question{Kind: SoundsInTurn, AtS: w.at[0], Answer: answer}
	if span := w.at[n] - w.at[0]; span > 0 {
		q.RateAsTapped = 60 * float64(n) / span
	}
	second := w.seconds(inTurn)
	var first, last float64
	kept := 0
	for i, t := range w.at {
		if second[i] {
			continue
		}
		if kept == 0 {
			first = t
		}
		last = t
		kept++
	}
	if kept > 1 {
		q.RateIfLess = 60 * float64(kept-1) / (last - first)
		q.LengthS = (last - first) / float64(kept-1)
	}
	r.Questions = append(r.Questions, q)
	if answer == BothSounds {
		w.leaveOut(second, r)
	}
	return inTurn && answer == Unanswered
}

// inTurn: long and short gaps alternate, and the short ones are as short as a systole.
func (w *work) inTurn() bool {
	n := len(w.gap)
	if n < soundsGaps {
		return false
	}
	m := mean(w.gap)
	v0, v1 := 0.0, 0.0
	for j, g := range w.gap {
		v0 += (g - m) * (g - m)
		if j > 0 {
			v1 += (g - m) * (w.gap[j-1] - m)
		}
	}
	if math.Sqrt(v0/float64(n)) <= soundsCV*m || v1 >= soundsLag1*v0 {
		return false
	}
	w.a = append(w.a[:0], w.gap...)
	return pick(w.a, n/quarterPart) <= systoleS
}

// twice: the rate is about twice the usual one.
func (w *work) twice(usual float64) bool {
	n := len(w.gap)
	if !(usual > 0) || n < twiceGaps {
		return false
	}
	times := 60 * float64(n) / (w.at[n] - w.at[0]) / usual
	return times > twiceLow && times < twiceHigh
}

// seconds marks the taps taken for second sounds: the end of every gap that is one of the short ones, or every second
// tap where the gaps are alike.
func (w *work) seconds(inTurn bool) []bool {
	out := make([]bool, len(w.at))
	if !inTurn {
		for i := 1; i < len(out); i += 2 {
			out[i] = true
		}
		return out
	}
	w.a = append(w.a[:0], w.gap...)
	slices.Sort(w.a)
	n := len(w.a)
	half := (w.a[n/quarterPart] + w.a[n-1-n/quarterPart]) / 2
	if w.gap[0] > half && n > 1 && w.gap[1] <= half {
		out[0] = true // the count began on a second sound
	}
	for j, g := range w.gap {
		out[j+1] = g <= half && !out[j]
	}
	return out
}

// leaveOut removes the marked taps.
func (w *work) leaveOut(second []bool, r *Result) {
	k := 0
	for i, t := range w.at {
		if second[i] {
			r.Removed = append(r.Removed, Removed{w.no[i], t, "second heart sound, as answered"})
			continue
		}
		w.at[k], w.no[k] = t, w.no[i]
		k++
	}
	w.at, w.no = w.at[:k], w.no[:k]
	w.measure()
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(len(x))
}
