package script

import (
	"fmt"
	"time"

	"loosebox/exam"
)

// goByAnother is said where the clock of this laptop cannot be trusted.
const goByAnother = "Go by another clock; n when the time is up."

// byAnother asks whether the watch is over by a clock that is not of this laptop.
func (s *watch) byAnother(w exam.Watch, doubt string, over func() Move) *Question {
	return &Question{
		ID: "watch by another clock", Back: back(s), Head: asks(fmt.Sprintf("Are the %d minutes over by another clock?", w.Minutes), doubt),
		Options: []Option{
			{Key: "y", Words: fmt.Sprintf("yes, the %d minutes are over: no reaction seen", w.Minutes), Do: over},
			{Key: "g", Words: "not yet, or not known: go on observing", Do: func() Move { return Move{} }},
		},
	}
}

// wait lets the prompts wait until the watch is over, or the clock turns out wrong in another way than was said.
func (s *watch) wait(w exam.Watch, said string) Move {
	return Move{Told: "\aCheck the horse.", Wait: func() time.Duration {
		at := s.Waits.Watch(s.Visit.ID, w, s.Now())
		if at.Doubt != said {
			return 0
		}
		return at.Left
	}}
}

// setSince says on the questions behind a needle that the clock was set since it went in; nil where it was not. What
// was done is saved all the same, with the time of the clock.
func (r *run) setSince(in time.Time) []Text {
	said := r.Waits.Since(r.Visit.ID, in, r.Now()).Clock("the needle went in")
	if said == "" {
		return nil
	}
	return []Text{{Words: said + " What is saved now has the time of this clock. " + rightTime, Tone: Strong}}
}

// beforeNeedle says of what ended earlier than its needle went in, as the record has it, that the clock was set back; nil
// where it did not.
func (r *run) beforeNeedle(in time.Time, ended *time.Time) []Text {
	if ended == nil || in.IsZero() || !exam.EarlierThan(*ended, in) {
		return nil
	}
	return []Text{{Words: "This is before the needle went in: the clock was set back. " + rightTime, Tone: Strong}}
}

const rightTime = "Afterwards set the clock, and save the right time as a comment."
