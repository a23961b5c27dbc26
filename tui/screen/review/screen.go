// Package review is the screen of one visit: what is out of range, by level, what was not done and why, and what is left.
// Enter goes to the step of a line.
package review

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/source"
)

// line is one line of the review; those with a place lead back to it.
type line struct {
	usual string    // of a remark: what is usual there
	past  []float64 // and the numbers of the horse's past, oldest first
	text  string
	at    exam.Key
	place bool
	head  bool
	level exam.Level
	more  []string // shown under the list while the cursor is here
	whole []string // where it comes from, beside what is known of its place
	alone bool     // whole is all there is to say: a score speaks for many places
	was   []string // what stood here before, under it, never cut
}

type screen struct {
	base.Screen
	id exam.VisitID
	to exam.Key // where the cursor stands at first; empty for the first line

	seen
	shown   exam.Visit // in the units of the person
	lines   []line
	cursor  int
	first   int
	origin  source.Panel
	closing bool // asked how to close with steps left
	finish  bool // ask it as soon as the visit is read
	stuck   bool // asked to close, and a needle or a watch keeps the visit open
	reason  int
	untold  bool           // asked what becomes of something for the veterinarian that is not handed off
	choice  int            // of that question
	without exam.NoHandOff // the reason that was chosen there
}

// New makes the review of the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit, to: to.At, finish: to.Finish}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) Title() string { return s.VisitTitle("Review", s.Visit) }

func (s *screen) Right() string {
	switch {
	case !s.Loaded:
		return ""
	case !s.Visit.Stands():
		return "VOIDED, does not count"
	case s.Visit.Closed():
		return "closed " + notation.Clock(*s.Visit.ClosedAt, s.Deps.Now())
	default:
		if len(s.Left) == 0 {
			return "not closed"
		}
		return fmt.Sprintf("%d not answered", len(s.Left))
	}
}

func (s *screen) Cautions() []string { return s.Visit.Horse.Cautions }

// Escape closes the question how to close the visit.
func (s *screen) Escape() bool {
	if s.origin.Close() {
		return true
	}
	was := s.closing || s.stuck || s.untold
	s.closing, s.stuck, s.untold = false, false, false
	return was
}

func (s *screen) onPlace() bool {
	return s.cursor < len(s.lines) && s.lines[s.cursor].place
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	return s.draw(size)
}
