package tap

import "loosebox/exam"

// The words that may be said about evenness, and no others. None of them names a rhythm: only an ECG does.
const (
	Even               = exam.Even
	EvenWithPauses     = exam.EvenWithPauses
	SpeedingAndSlowing = exam.SpeedingAndSlowing
	Irregular          = exam.Irregular
	TooFew             = exam.TooFewToSay
	TooFast            = exam.TooFastToJudge
)

// AfterTooFast is what TooFast means and what to do, in words for the screen: the finger scatters as much as an irregular
// heart changes at that rate.
const AfterTooFast = "Too fast to judge evenness by tapping; listen a full minute."

// AfterIrregular is what to do after Irregular, in words for the screen.
const AfterIrregular = "Tap again for 60 s and tell the veterinarian. Only an ECG names a rhythm."

// Kinds of Question.
const (
	LongGap      = "long gap"    // a tap was missed, or the heart paused: only the person can say
	DoubtfulTap  = "extra tap"   // two short gaps that add up to one usual gap
	SoundsInTurn = "both sounds" // long and short gaps in turn, or a rate near twice the usual one
)

// Result is what a count comes to. Tap numbers count from 1 over all times given, lead-in and removed ones included.
type Result struct {
	What      What
	Taps      int // times given
	Used      int // taps left after lead-in, held keys, doubles and answers
	LeadIn    int // taps left out at the start
	Intervals int // gaps between used taps
	Beats     int // beats between first and last used tap: Intervals and the beats put back by TapMissed

	FirstS, LastS float64 // first and last used tap; both 0 when Used is 0

	// Rate is 60·Beats/(LastS − FirstS) per minute. None from a single tap.
	Rate    float64
	HasRate bool

	// HalfWidth is the 95 % half-width in per minute of the rate during this count, t(0.975, n−1)·s/n with s the SD of
	// the gaps, taken to the rate by 60/T². It treats all spread as tap error and so covers in every rhythm; in a quick
	// heart it is up to 15 % wider, for taps that stray. It says nothing about the animal's rate an hour later. None
	// from two taps.
	HalfWidth    float64
	HasHalfWidth bool

	// Personal is the half-width from the person's own scatter, 1.96·√2·σ/n: right only while σ is.
	Personal    float64
	HasPersonal bool

	UsualGapS float64 // usual gap between taps in s (rule of base); 0 when too few taps

	Held      int // presses dropped because they came within the dead time of the press before
	Removed   []Removed
	Early     []Early
	Questions []Question
	Open      int // questions without an answer

	// RateIfAllMissed and RateIfAllPause hold for all unanswered long gaps together; both equal Rate without one.
	RateIfAllMissed, RateIfAllPause float64

	Evenness          exam.Evenness // one of the six words above
	Pauses            int           // long gaps that were not answered TapMissed
	PausesEvery       int           // a pause regularly after every so many taps, from three pauses; else 0
	LongestPauseS     float64
	LongestPauseTimes float64 // as a multiple of UsualGapS

	Windows []Window // only those that fit into the count

	Wanted float64 // half-width asked for, per minute
	// Firm: the wanted half-width is met and the least time is over (15 s heart; 60 s or 10 breaths). Open questions do
	// not keep it from being firm: they are about which number, not about how exact.
	Firm bool

	Strip []float64 // gaps between used taps in s, for the review
}

// Removed is a tap that was left out.
type Removed struct {
	Tap int
	AtS float64
	Why string
}

// Early is a tap that came well before its time. It is counted; a single one is nearly always the finger.
type Early struct {
	Tap        int
	AtS        float64
	TimesUsual float64 // the gap before it as a multiple of the usual gap
}

// Question is something the times cannot settle.
//
// For a long gap, RateIfMissed and RateIfPause are the rates under either answer to this question, the others as they
// stand. For an extra tap or both sounds RateIfLess is the rate with the doubtful taps left out and RateAsTapped with
// them; AfterTap is the doubtful tap itself, and 0 for both sounds.
type Question struct {
	Kind       string
	AfterTap   int
	AtS        float64 // time of that tap
	LengthS    float64 // length of the gap
	TimesUsual float64 // as a multiple of the usual gap
	Beats      int     // beats the gap would hold if taps were missed

	RateIfMissed, RateIfPause float64 // long gap
	RateIfLess, RateAsTapped  float64 // extra tap, both sounds

	Answer Answer
}

// Window is what counting by ear for so many seconds would have shown. The clock starts on the first used tap and that
// beat is zero; a beat exactly at the end counts. On average this reads 30/Seconds per minute too low, in steps of
// 60/Seconds: no fault of the person, but of whole numbers.
type Window struct {
	Seconds    int
	Counted    int // beats or breaths
	RatePerMin float64
}

// Side says on which side of a limit a count lies.
type Side string

// The sides.
const (
	Below      Side = "below"
	Borderline Side = "borderline"
	Above      Side = "above"
)

// Against compares rate ± halfWidth with a limit, all per minute. If the interval holds the limit the count is
// Borderline: it cannot say on which side the animal was.
func Against(rate, halfWidth, limit float64) Side {
	switch {
	case rate+halfWidth < limit:
		return Below
	case rate-halfWidth > limit:
		return Above
	default:
		return Borderline
	}
}

// Against compares the count with a limit per minute; without a half-width it is Borderline.
func (r Result) Against(limit float64) Side {
	if !r.HasHalfWidth {
		return Borderline
	}
	return Against(r.Rate, r.HalfWidth, limit)
}
