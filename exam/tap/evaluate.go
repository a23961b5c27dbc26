package tap

import (
	"fmt"
	"math"
	"slices"
)

const (
	straysFromS = 0.9 // s, period below which the band is widened,
	straysFullS = 0.75
	straysMost  = 0.15 // by as much as this, below straysFullS
)

// farthestS bounds a time. Beyond it a float64 no longer holds a millisecond surely, and the list is hardly in seconds.
const farthestS = 1e10

// Evaluate reads a list of press times in seconds, oldest first. Times closer than the dead time to the time before
// them are dropped and counted in Held. A time that is no number, infinite, before the one before it or beyond 1e10 s,
// a list longer than MaxTaps and an unknown What are errors that name the tap (from 1) and the reason.
func Evaluate(times []float64, o Options) (Result, error) {
	if o.What != "" && o.What != Heart && o.What != Breath {
		return Result{}, fmt.Errorf("cannot count %q: only heart and breath are counted", string(o.What))
	}
	if len(times) > MaxTaps {
		return Result{}, fmt.Errorf("%d times are too many: at most %d are evaluated", len(times), MaxTaps)
	}
	for i, t := range times {
		if why := wrong(t); why != "" {
			return Result{}, fmt.Errorf("time %d %s", i+1, why)
		}
		if i > 0 && t < times[i-1] {
			return Result{}, fmt.Errorf("time %d (%g s) is before time %d (%g s)", i+1, t, i, times[i-1])
		}
	}
	var w work
	return w.evaluate(times, o.filled()), nil
}

func wrong(t float64) string {
	switch {
	case math.IsNaN(t):
		return "is not a number"
	case math.IsInf(t, 0):
		return "is infinite"
	case math.Abs(t) > farthestS:
		return fmt.Sprintf("(%g) is too large to be seconds", t)
	}
	return ""
}

// work holds the buffers of one evaluation, so that a Counter does not allocate them anew on every press.
type work struct {
	at    []float64 // used taps
	no    []int     // their numbers, from 1
	gap   []float64 // gap[j] = at[j+1] − at[j]
	beats []int     // beats that gap[j] counts
	close []closePress
	a, b  []float64 // scratch
}

func (w *work) evaluate(times []float64, o Options) Result {
	r := Result{What: o.What, Taps: len(times), Held: o.Held, Evenness: TooFew, Wanted: o.Wanted}
	w.load(times, o, &r)
	inTurn := false
	if o.What == Heart {
		inTurn = w.sounds(o, &r)
	}
	var b base
	if !inTurn { // with both sounds in doubt a "usual gap" has no meaning yet
		b = w.base()
		if o.What == Heart && w.putBack(b) {
			b = w.base()
		}
		if o.What == Heart && w.doubles(b, &r) {
			b = w.base()
		}
	}
	w.leaveOutClose(o, &r)
	w.measure()
	w.long(b, o, &r)
	w.early(b, o, &r)
	w.rate(o, &r)
	w.questionRates(&r)
	w.pauses(b, &r)
	r.UsualGapS = b.t0
	r.Evenness = w.evenness(b, o, r)
	w.windows(&r)
	r.Strip = append([]float64(nil), w.gap...)
	return r
}

// load keeps the taps outside the dead time, without the lead-in and without those answered ExtraTap.
func (w *work) load(times []float64, o Options, r *Result) {
	at, no := slices.Grow(w.at[:0], len(times)), slices.Grow(w.no[:0], len(times))
	dead := o.What.dead()
	kept := 0
	w.close = w.close[:0]
	for i, t := range times {
		if i > 0 && t-times[i-1] < dead {
			w.close = append(w.close, closePress{t, i + 1})
			continue
		}
		kept++
		if kept <= o.LeadIn {
			r.LeadIn++
			continue
		}
		if o.Answers[i+1] == ExtraTap {
			r.Removed = append(r.Removed, Removed{i + 1, t, "not a beat, as answered"})
			continue
		}
		at, no = append(at, t), append(no, i+1)
	}
	w.at, w.no = at, no
	w.measure()
}

// leaveOutClose counts the presses within the dead time that were not put back.
func (w *work) leaveOutClose(o Options, r *Result) {
	for _, p := range w.close {
		r.Held++
		r.Removed = append(r.Removed, Removed{p.no, p.at, fmt.Sprintf("within %g s of another press", o.What.dead())})
	}
}

// measure fills gap and beats from the used taps.
func (w *work) measure() {
	gap, beats := slices.Grow(w.gap[:0], len(w.at)), slices.Grow(w.beats[:0], len(w.at))
	for j := 1; j < len(w.at); j++ {
		gap, beats = append(gap, w.at[j]-w.at[j-1]), append(beats, 1)
	}
	w.gap, w.beats = gap, beats
}

// strays widens the band of a quick heart. One tap in twenty strays far (assumed); at rest the heart's own changes make
// the band wide enough for that, above 67 per minute they no longer do (derived; checked by Acceptance line 21).
func strays(what What, period float64) float64 {
	if what != Heart {
		return 1
	}
	return 1 + straysMost*min(1, max(0, (straysFromS-period)/(straysFromS-straysFullS)))
}

// rate fills headline and half-widths.
func (w *work) rate(o Options, r *Result) {
	r.Used, r.Intervals = len(w.at), len(w.gap)
	if r.Used == 0 {
		return
	}
	r.FirstS, r.LastS = w.at[0], w.at[r.Used-1]
	for _, m := range w.beats {
		r.Beats += m
	}
	span, n := r.LastS-r.FirstS, float64(r.Beats)
	if r.Beats < 1 || !(span > 0) {
		return
	}
	r.Rate, r.HasRate = 60*n/span, true
	r.RateIfAllMissed, r.RateIfAllPause = r.Rate, r.Rate
	period := span / n
	perMin := 60 / (period * period)
	if o.Sigma > 0 {
		r.Personal, r.HasPersonal = 1.96*math.Sqrt2*o.Sigma/n*perMin, true
	}
	if r.Intervals < 2 {
		return
	}
	sum := 0.0
	for j, g := range w.gap {
		d := g - float64(w.beats[j])*period
		sum += d * d
	}
	s := math.Sqrt(sum / float64(r.Intervals-1))
	r.HalfWidth, r.HasHalfWidth = quantileT975(r.Intervals-1)*s*strays(o.What, period)/n*perMin, true
	least := span >= leastHeartS
	if o.What == Breath {
		least = span >= leastBreathS || r.Beats >= leastBreaths
	}
	r.Firm = least && r.HalfWidth <= o.Wanted
}
