package tap

import (
	"cmp"
	"math"
	"slices"
)

// long asks about every gap that is far longer than the usual one and counts its beats as answered.
func (w *work) long(b base, o Options, r *Result) {
	if !b.ok {
		return
	}
	limit := max(longTimes*b.t0, b.t0+spreads*b.s)
	for j, g := range w.gap {
		if g <= limit {
			continue
		}
		q := Question{
			Kind: LongGap, AfterTap: w.no[j], AtS: w.at[j], LengthS: g, TimesUsual: g / b.t0,
			Beats: max(2, int(math.Round(g/b.t0))), Answer: o.Answers[w.no[j]],
		}
		if q.Answer == Unanswered {
			q.Answer = o.Rest
		}
		if q.Answer == TapMissed {
			w.beats[j] = q.Beats
		}
		r.Questions = append(r.Questions, q)
	}
}

// early lists taps that came too soon and asks about those that look like a tap between two beats: the gaps on both
// sides add up to one usual gap. A tap that only strayed leaves the sum at two.
func (w *work) early(b base, o Options, r *Result) {
	if !b.ok {
		return
	}
	limit := min(earlyTimes*b.t0, b.t0-spreads*b.s)
	asked := -1
	for j, g := range w.gap {
		if g >= limit {
			continue
		}
		r.Early = append(r.Early, Early{Tap: w.no[j+1], AtS: w.at[j+1], TimesUsual: g / b.t0})
		i, off := -1, mergeNear*b.t0
		if j > 0 && math.Abs(w.gap[j-1]+g-b.t0) < off {
			i, off = j, math.Abs(w.gap[j-1]+g-b.t0)
		}
		if j+1 < len(w.gap) && math.Abs(g+w.gap[j+1]-b.t0) < off {
			i = j + 1
		}
		if i < 0 || i == asked {
			continue
		}
		asked = i
		r.Questions = append(r.Questions, Question{
			Kind: DoubtfulTap, AfterTap: w.no[i], AtS: w.at[i], LengthS: w.gap[i-1], TimesUsual: w.gap[i-1] / b.t0,
			Answer: o.Answers[w.no[i]],
		})
	}
}

// questionRates puts the rates into the questions, counts the open ones and brings all lists into the order of taps.
func (w *work) questionRates(r *Result) {
	span, missed := r.LastS-r.FirstS, 0
	for i := range r.Questions {
		q := &r.Questions[i]
		if q.Answer == Unanswered {
			r.Open++
		}
		switch q.Kind {
		case LongGap:
			rest := r.Beats - 1 // beats outside this gap
			if q.Answer == TapMissed {
				rest = r.Beats - q.Beats
			}
			if q.Answer == Unanswered {
				missed += q.Beats - 1
			}
			q.RateIfMissed, q.RateIfPause = 60*float64(rest+q.Beats)/span, 60*float64(rest+1)/span
		case DoubtfulTap:
			q.RateIfLess, q.RateAsTapped = 60*float64(r.Beats-1)/span, r.Rate
		}
	}
	if r.HasRate {
		r.RateIfAllMissed = 60 * float64(r.Beats+missed) / span
	}
	slices.SortStableFunc(r.Questions, func(a, b Question) int { return cmp.Compare(a.AfterTap, b.AfterTap) })
	slices.SortStableFunc(r.Removed, func(a, b Removed) int { return cmp.Compare(a.Tap, b.Tap) })
}

// pauses sums up the long gaps that were not answered as missed taps.
func (w *work) pauses(b base, r *Result) {
	every, last, regular := 0, -1, true
	j := 0 // index of the used tap that the question names
	for _, q := range r.Questions {
		if q.Kind != LongGap || q.Answer == TapMissed {
			continue
		}
		for w.no[j] < q.AfterTap {
			j++
		}
		r.Pauses++
		if q.LengthS > r.LongestPauseS {
			r.LongestPauseS, r.LongestPauseTimes = q.LengthS, q.LengthS/b.t0
		}
		switch {
		case last < 0:
		case every == 0:
			every = j - last
		default:
			regular = regular && every == j-last
		}
		last = j
	}
	if r.Pauses >= 3 && regular {
		r.PausesEvery = every
	}
}
