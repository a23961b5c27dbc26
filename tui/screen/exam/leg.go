package exam

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// atLeg reports whether this step and those beside it are asked at the same site, such as a leg, and so are drawn on one
// screen. False in a blind rehearsal, which shows no order.
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

// drawLeg lists what is answered at the leg; in a low window the signs in the order at the left have to do.
func (s *screen) drawLeg(size layout.Size) []string {
	if !s.atLeg() || low(size) {
		return nil
	}
	from, n := s.routine.Area(s.now)
	t := s.Deps.Theme
	var lines []string
	for i, ask := range s.routine.Asks[from : from+n] {
		f, ok := s.visit.Finding(ask.Keys()[0])
		if !ok || from+i == s.now {
			continue
		}
		step, _ := s.Deps.Steps.ByID(ask.Step)
		text := t.Sign.NotDone + " " + step.Short + ": not done"
		if f.Done() {
			text = t.Sign.Done + " " + step.Short + ": " + notation.CleanLine(s.shown(step, f.Value), 0)
		}
		lines = append(lines, t.Faint.Render(layout.Cut(text, size.W)))
	}
	if lines == nil {
		return nil
	}
	return append(lines, "")
}
