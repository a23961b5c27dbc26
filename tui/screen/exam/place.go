package exam

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/entry"
)

// find is the index of the ask that covers a place; the first one otherwise.
func (s *screen) find(k exam.Key) int {
	for i, ask := range s.routine.Asks {
		for _, own := range ask.Keys() {
			if own == k {
				return i
			}
		}
	}
	for i, ask := range s.routine.Asks {
		if ask.Step == k.Step {
			return i
		}
	}
	return 0
}

// nextOpen is the first ask with an open place from an index on, from the start again after the last; len(Asks) where none
// is left.
func (s *screen) nextOpen(from int) int {
	n := len(s.routine.Asks)
	open := map[exam.Key]bool{}
	for _, k := range s.visit.Left(s.routine) {
		open[k] = true
	}
	for i := range n {
		ask := (from + i) % n
		for _, k := range s.routine.Asks[ask].Keys() {
			if open[k] {
				return ask
			}
		}
	}
	return n
}

// enter puts an ask on the screen.
func (s *screen) enter(i int) tea.Cmd {
	if i >= len(s.routine.Asks) {
		i = len(s.routine.Asks) - 1
		if i < 0 {
			return nil
		}
	}
	s.now, s.leave = i, false
	s.origin.Close()
	ask, step := s.ask(), s.step()
	s.told = s.Deps.Tell(s.id, procedure.AtStep(s.visit, step.ID))
	before := map[exam.Site]exam.Value{}
	places := append(ask.Keys(), exam.Key{Step: ask.Step, Site: exam.Overall})
	for _, k := range places {
		if f, ok := s.visit.Finding(k); ok && f.Done() {
			before[k.Site] = f.Value
		}
	}
	s.field = entry.NewSites(step, ask.Sites, s.options(step), before)
	for _, k := range places {
		if f, ok := s.visit.Finding(k); ok && !f.Done() {
			s.field.Close(k.Site, f.NotDone.String())
		}
	}
	return s.field.Init()
}

func (s *screen) ask() exam.Ask { return s.routine.Asks[s.now] }

func (s *screen) step() exam.Step {
	step, _ := s.Deps.Steps.ByID(s.ask().Step)
	return step
}

// key is the place that the field is at.
func (s *screen) key() exam.Key { return exam.Key{Step: s.ask().Step, Site: s.field.Site()} }

// openKeys are the places of this ask without answer, the present one first.
func (s *screen) openKeys() []exam.Key {
	open := s.openIn(s.ask())
	here := s.key()
	for i, k := range open {
		if k == here {
			copy(open[1:i+1], open[:i])
			open[0] = here
		}
	}
	return open
}

// openIn are the places of an ask without answer; one answer for all sites of
// the step closes every one of them.
func (s *screen) openIn(ask exam.Ask) []exam.Key {
	return s.visit.Left(exam.Routine{Asks: []exam.Ask{ask}})
}
