package exam

import (
	"github.com/charmbracelet/x/ansi"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// wholeLeg is the height of a body with room for a line a step of a leg.
const wholeLeg = 16

// atLeg says that the steps around this one are asked at one site, as at a leg: they are one screen. A blind rehearsal has
// no order to show.
func (s *screen) atLeg() bool { return !s.horse.blind() && s.routine.OneSite(s.now) }

// openAtLeg is the next step without answer at the leg that is on the screen.
func (s *screen) openAtLeg() (ask int, ok bool) {
	if !s.atLeg() {
		return 0, false
	}
	from, n := s.routine.Area(s.now)
	for i := range n {
		ask = from + (s.now-from+1+i)%n
		if len(s.openIn(s.routine.Asks[ask])) > 0 {
			return ask, true
		}
	}
	return 0, false
}

// pressLeg goes to the step beside this one at the same leg.
func (s *screen) pressLeg(p keys.Press) (tea.Cmd, bool) {
	by := 0
	switch {
	case !s.atLeg() || s.field.Typing():
	case keys.Left().Is(p):
		by = -1
	case keys.Right().Is(p):
		by = 1
	}
	if by == 0 {
		return nil, false
	}
	if s.field.Busy() {
		return s.leaving(nil), true
	}
	from, n := s.routine.Area(s.now)
	s.said = ""
	return s.enter(from + (s.now-from+by+n)%n), true
}

// drawLeg lists the steps of the leg with their answers; in a low window the order at the left has to do.
func (s *screen) drawLeg(size layout.Size) []string {
	if !s.atLeg() || size.H < wholeLeg {
		return nil
	}
	from, n := s.routine.Area(s.now)
	wide := 0
	for _, ask := range s.routine.Asks[from : from+n] {
		step, _ := s.Deps.Steps.ByID(ask.Step)
		wide = max(wide, ansi.StringWidth(step.Short))
	}
	t := s.Deps.Theme
	var lines []string
	for i, ask := range s.routine.Asks[from : from+n] {
		step, _ := s.Deps.Steps.ByID(ask.Step)
		point, sign, answer := " ", t.Sign.Left, ""
		if from+i == s.now {
			point = t.Sign.Cursor
		}
		if f, ok := s.visit.Finding(ask.Keys()[0]); ok && f.Done() {
			sign, answer = t.Sign.Done, notation.CleanLine(f.Value.Show(step), 0)
		} else if ok {
			sign, answer = t.Sign.NotDone, "not done: "+notation.CleanLine(f.NotDone.String(), 0)
		} else if len(s.openIn(ask)) == 0 {
			sign, answer = t.Sign.Done, string(exam.Overall)
		}
		text := layout.Cut(point+" "+sign+" "+layout.Pad(step.Short, wide)+"  "+answer, size.W)
		if from+i == s.now {
			text = t.Cursor.Render(text)
		}
		lines = append(lines, text)
	}
	return append(lines, "")
}
