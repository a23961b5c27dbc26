package tap

import "fmt"

// FirstBeat settles the zero-or-one question, in words for the screen.
const FirstBeat = "Start on a beat. That beat is zero; the next one is one."

const (
	sourceHeart  = "FEI Endurance Rules 2019, art. 821.2.3, read in a copy"
	sourceBreath = "common practice; no study of horses was found; in 82 people 15 s read 2 a minute too low (Hill 2018, J Clin Nurs 27:546-554)"
	mostPerS     = 6 // more events in a second cannot be counted by ear
)

// ByEar is a rate counted by ear in a window that began on an event counted as zero.
type ByEar struct {
	What    What
	Counted int
	Seconds int
	// RatePerMin is 60·Counted/Seconds, as the trade writes it down. The regular rate behind it is anywhere from
	// RatePerMin to just under UnderPerMin; MiddlePerMin is the middle, free of the bias of −30/Seconds.
	RatePerMin, UnderPerMin, MiddlePerMin float64
	StepPerMin                            float64 // 4, 2 or 1: how coarse the count is
	Coarse                                string  // the same in words
	Enough                                bool    // the window was long enough
	Why                                   string  // why it was not; empty when Enough
	Source                                string  // of that rule
}

// Counted reads a count by ear over 15, 30 or 60 s. doubtful is true for an irregular, faint or murmuring heart (or
// breathing that is hard to see), which needs the full minute. A heart may stop at 15 s with at most 16 beats and at
// 30 s with at most 32; breathing needs 60 s or 10 breaths. Another window, a negative count and an impossible one
// (over 6 a second) are errors.
func Counted(what What, count, seconds int, doubtful bool) (ByEar, error) {
	switch {
	case what != Heart && what != Breath:
		return ByEar{}, fmt.Errorf("cannot count %q: only heart and breath are counted", string(what))
	case seconds != 15 && seconds != 30 && seconds != 60:
		return ByEar{}, fmt.Errorf("a window of %d s is not used: count for 15, 30 or 60 s", seconds)
	case count < 0 || count > mostPerS*seconds:
		return ByEar{}, fmt.Errorf("%d in %d s cannot be right: count again", count, seconds)
	}
	step := 60 / float64(seconds)
	c := ByEar{
		What: what, Counted: count, Seconds: seconds, RatePerMin: step * float64(count),
		UnderPerMin: step * float64(count+1), MiddlePerMin: step * (float64(count) + 0.5), StepPerMin: step,
	}
	c.Coarse = fmt.Sprintf("in steps of %g a minute: %g or more and under %g", step, c.RatePerMin, c.UnderPerMin)
	c.Why, c.Source = notEnough(what, count, seconds, doubtful)
	c.Enough = c.Why == ""
	return c, nil
}

func notEnough(what What, count, seconds int, doubtful bool) (why, source string) {
	if what == Breath {
		if seconds < 60 && (doubtful || count < leastBreaths) {
			why = fmt.Sprintf("breathing needs a full minute, or %d breaths that are plain to see", leastBreaths)
		}
		return why, sourceBreath
	}
	most := map[int]int{15: 16, 30: 32}[seconds]
	switch {
	case seconds == 60:
	case doubtful:
		why = "an irregular, faint or murmuring heart is counted for the full minute"
	case count > most && seconds == 15:
		why = "more than 16 beats in 15 s: go on to 30 s"
	case count > most:
		why = "more than 32 beats in 30 s: count the full minute"
	}
	return why, sourceHeart
}
