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
