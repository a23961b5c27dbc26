// Package tap turns press times into a rate: how fast, how sure, how even, and what must be asked about.
// The tap screen uses a Counter, stored and typed times go through Evaluate, and both run the same rules.
//
// The rate is first tap to last tap, 60·n/(t_n − t_0) per minute. In any rhythm it differs from the true rate of the
// tapped stretch only by the timing of two presses. A median interval over-reads where the heart pauses and a line fit
// follows drift, so neither is used. Nothing is repaired silently: long gaps are asked about.
//
// All times are seconds from one monotonic clock; its zero does not matter. All rates are per minute.
package tap

import "maps"

// What is counted.
type What string

// The two things that are counted.
const (
	Heart  What = "heart"
	Breath What = "breath"
)

// MaxTaps is the longest list of times that is evaluated: over sixteen hours at 100 per minute.
const MaxTaps = 100_000

// Numbers of the rules. "Derived" means worked out and checked by this package's own simulation (see Acceptance).
const (
	deadHeart  = 0.18 // s after any press in which another press is no beat (derived)
	deadBreath = 0.4  // s, the same for breaths (derived)

	leastHeartS  = 15.0 // s a heart is tapped at least before the rate may be called firm
	leastBreathS = 60.0 // s a breathing count lasts at least, or
	leastBreaths = 10   // breaths

	wantedPerMin = 1.0 // per minute, half-width wanted when the person set none
)

// Answer is what the person said to a Question.
type Answer string

// The answers. An unanswered long gap counts as one beat, an unanswered tap as a beat.
const (
	Unanswered Answer = ""
	TapMissed  Answer = "tap missed"  // long gap: the beats in it are put back
	RealPause  Answer = "pause"       // long gap: nothing was missed
	ExtraTap   Answer = "extra tap"   // extra tap: it was no beat and is left out
	RealTap    Answer = "real tap"    // extra tap: it was a beat
	BothSounds Answer = "both sounds" // both sounds: every second tap is left out
	OneSound   Answer = "one sound"   // both sounds: every tap was a beat
)

// Options are those of Evaluate: what was counted and how it is to be read. The zero value is a heart, no lead-in, nothing known of the
// person who tapped.
type Options struct {
	What   What    // empty is Heart
	LeadIn int     // taps left out at the start: 2 on the screen, 0 for a list of times
	Sigma  float64 // personal scatter of a tap in s (SD of tap − beat, see Scatter); 0 is unknown
	Wanted float64 // half-width asked for, per minute; 0 is 1 per minute
	Usual  float64 // this animal's usual rate per minute, for the question about both sounds; 0 is unknown
	Held   int     // presses already dropped at the keyboard; carried into Result.Held

	// Answers by Question.AfterTap. Read, never written: use Answered to add one.
	Answers map[int]Answer
	// Rest answers every long gap that has no answer of its own: TapMissed, RealPause or Unanswered.
	Rest Answer
}

// Answered returns a copy of o in which the question after the given tap has this answer; Unanswered takes it back.
func (o Options) Answered(afterTap int, a Answer) Options {
	m := make(map[int]Answer, len(o.Answers)+1)
	maps.Copy(m, o.Answers)
	if a == Unanswered {
		delete(m, afterTap)
	} else {
		m[afterTap] = a
	}
	o.Answers = m
	return o
}

func (o Options) filled() Options {
	if o.What == "" {
		o.What = Heart
	}
	if !(o.Wanted > 0) {
		o.Wanted = wantedPerMin
	}
	if !(o.Sigma > 0) {
		o.Sigma = 0
	}
	o.LeadIn = max(0, o.LeadIn)
	return o
}

func (w What) dead() float64 {
	if w == Breath {
		return deadBreath
	}
	return deadHeart
}
