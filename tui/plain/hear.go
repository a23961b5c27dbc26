package plain

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/tap"
)

// mostListenS is how long one listens at a time.
const mostListenS = 300

// sounding is one thing heard, at so many seconds from the beginning.
type sounding struct {
	atS  float64
	word string
}

// listen lets so many seconds pass. What is heard of a simulated horse meanwhile is played where sound is on, and else
// told in one line at the end.
func (s *Session) listen(k exam.Key, step exam.Step, seconds float64) {
	if s.Horse == nil {
		s.Wait(time.Duration(seconds) * time.Second)
		return
	}
	from := s.seconds()
	s.played.heard, s.played.zeroS, s.played.listens = k, from, true
	list := s.soundings(k, step, from, from+seconds)
	if s.Wait == nil {
		s.pass(seconds)
		s.heardLine(list, seconds)
		return
	}
	if s.plays() {
		s.playFor(k, from, seconds)
		return
	}
	s.Wait(time.Duration(seconds * float64(time.Second)))
	s.heardLine(list, seconds)
}

// heardLine writes in one line what was heard, as times from the beginning: a line for each beat would be too much for a
// screen reader.
func (s *Session) heardLine(list []sounding, seconds float64) {
	times := make([]string, len(list))
	for i, e := range list {
		times[i] = strings.TrimSpace(strconv.FormatFloat(e.atS, 'f', 2, 64) + " " + e.word)
	}
	s.line("  %s s: %s", notation.FormatNumber(seconds, 0), strings.Join(times, ", "))
}

// pass lets seconds pass in a script, where nobody waits.
func (s *Session) pass(seconds float64) {
	s.played.skipped += time.Duration(seconds * float64(time.Second))
}

// soundings are what is heard or seen to move at a place between two seconds.
func (s *Session) soundings(k exam.Key, step exam.Step, from, to float64) []sounding {
	var out []sounding
	add := func(times []float64, word string) {
		for _, t := range times {
			out = append(out, sounding{t - from, word})
		}
	}
	switch s.Horse.Look(k, 0).Listen {
	case exam.ListenHeart:
		add(s.Horse.Beats(from, to), "")
		add(s.Horse.Thuds(from, to), "soft thud")
		slices.SortFunc(out, func(a, b sounding) int { return cmp.Compare(a.atS, b.atS) })
	case exam.ListenBreath:
		add(s.Horse.Breaths(from, to), "")
	case exam.ListenGut:
		for _, g := range s.Horse.Sounds(k.Site, from, to) {
			out = append(out, sounding{g.AtS - from, g.Kind.String()})
		}
	case exam.ListenNone:
	}
	return out
}

// byHeart listens for a while, or reads a count from the times of the taps.
func (s *Session) byHeart(k exam.Key, step exam.Step, word, rest string) (command, int, error) {
	if word == "taps" {
		return s.byTaps(k, step, rest)
	}
	if s.Horse.Look(k, 0).Listen == exam.ListenNone {
		s.line("There is nothing to hear at this step.")
		return again, 0, nil
	}
	seconds := 30.0
	if rest != "" {
		n, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(rest), "s"), 64)
		if err != nil || !(n >= 1 && n <= mostListenS) {
			s.line("Type listen and 1 to %d seconds.", mostListenS)
			return again, 0, nil
		}
		seconds = n
	}
	s.listen(k, step, seconds)
	return again, 0, nil
}

// byTaps makes a count of times in seconds from where the listening began.
func (s *Session) byTaps(k exam.Key, step exam.Step, text string) (command, int, error) {
	if step.Kind != exam.KindCount {
		s.line("Nothing is counted at this step.")
		return again, 0, nil
	}
	if !s.played.listens || s.played.heard != k {
		s.line("Type listen first: the times count from there.")
		return again, 0, nil
	}
	times, err := readTimes(text)
	if err != nil {
		s.line("Not saved: %s.", err)
		return again, 0, nil
	}
	what := tap.What(step.Heard)
	for i := range times {
		times[i] += s.played.zeroS
	}
	zero := times[0]
	for i := range times {
		times[i] -= zero
	}
	o := tap.Options{What: what}
	if what == tap.Heart {
		o.Sigma = s.Deps.Settings.Scatter[s.Person].SigmaS
	}
	r, err := tap.Evaluate(times, o)
	if err == nil && r.Open > 0 {
		r, err = s.settle(times, o, r)
	}
	if err == nil && !r.HasRate {
		err = errors.New("two taps at least make a rate")
	}
	switch {
	case leaves(err):
		return again, 0, err
	case err != nil:
		s.line("Not saved: %s.", err)
		return again, 0, nil
	}
	switch r.Evenness {
	case tap.Irregular:
		s.line("Irregular, no repeating pattern. %s", tap.AfterIrregular)
	case tap.TooFast:
		s.line("%s", tap.AfterTooFast)
	case exam.Even, exam.EvenWithPauses, exam.SpeedingAndSlowing, exam.TooFewToSay:
	}
	s.played.zeroS = zero
	n := &exam.Count{Method: exam.CountTapped, TapsS: times, LeadIn: r.LeadIn, Evenness: r.Evenness}
	if r.HasHalfWidth {
		n.HalfWidth = r.HalfWidth
	}
	for _, q := range r.Questions {
		if q.Kind == tap.LongGap {
			n.Answers = append(n.Answers, exam.GapAnswer{AfterTap: q.AfterTap, Missed: q.Answer == tap.TapMissed})
		}
	}
	return s.keep(k, step, exam.Value{Kind: step.Kind, Number: &notation.Quantity{Value: r.Rate, Unit: notation.PerMinute}, Count: n})
}

// settle asks about long gaps; of anything else that the times leave open it says
// to count again.
func (s *Session) settle(times []float64, o tap.Options, r tap.Result) (tap.Result, error) {
	for _, q := range r.Questions {
		if q.Answer != tap.Unanswered {
			continue
		}
		if q.Kind != tap.LongGap {
			return r, fmt.Errorf("tap %d does not fit between the others; count again", q.AfterTap)
		}
		s.line("A gap of %.1f s after tap %d: type missed (%.1f /min) or paused (%.1f /min).", q.LengthS, q.AfterTap, q.RateIfMissed, q.RateIfPause)
		text, err := s.reply()
		switch {
		case err != nil:
			return r, err
		case strings.EqualFold(text, "missed"):
			o = o.Answered(q.AfterTap, tap.TapMissed)
		case strings.EqualFold(text, "paused"):
			o = o.Answered(q.AfterTap, tap.RealPause)
		default:
			return r, errors.New("the gap is not settled; type the taps again")
		}
	}
	return tap.Evaluate(times, o)
}

// readTimes reads rising times in seconds, with spaces or commas between them.
func readTimes(text string) ([]float64, error) {
	var out []float64
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		t, err := strconv.ParseFloat(f, 64)
		if err != nil || !(t >= 0 && t <= mostListenS) {
			return nil, fmt.Errorf("%q is no time in seconds", notation.CleanLine(f, 20))
		}
		out = append(out, t)
	}
	if len(out) < 2 {
		return nil, errors.New("two taps at least make a rate")
	}
	if !sort.Float64sAreSorted(out) {
		return nil, errors.New("the times do not rise")
	}
	return out, nil
}

// storeClock stores when the count of a simulated horse began, before the count itself.
func (s *Session) storeClock(k exam.Key, v exam.Value) error {
	if s.Horse == nil || v.Count == nil || v.Count.Method == exam.CountTyped || !s.played.listens || s.played.heard != k {
		return nil
	}
	return s.store(rehearse.ClockEntry(k, s.played.zeroS))
}
