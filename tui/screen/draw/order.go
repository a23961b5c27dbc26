package draw

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// ordering is the order form.
func (s *screen) ordering() flow.Part {
	s.tell()
	sheet := flow.NewSheet(s.Screen, "to the check list", "check list", s.sheet, s.sheet.Fields(), nil, s.check)
	sheet.Leaving = "Nothing is written down yet. esc again leaves, and what was typed is lost."
	return sheet
}

// check goes on to the check list, once the order is whole and the gate is open.
func (s *screen) check() tea.Cmd {
	order, err := s.sheet.Order()
	if err != nil {
		s.Say(err.Error())
		return nil
	}
	decided, err := s.Stand.Drawing(s.Deps.Now())
	if err != nil {
		s.Show(flow.NewLocked(s.Screen, err))
		return nil
	}
	s.tell()
	points := needle.DrawPoints(s.Stand, order, s.sheet.Over(), decided, s.Deps.Now())
	s.Show(flow.NewChecks(s.Screen, points, func(given []exam.Checked) tea.Cmd { return s.ready(order, given) }, s.ordering))
	return nil
}

// ready writes order and check list down.
func (s *screen) ready(o exam.DrawOrder, given []exam.Checked) tea.Cmd {
	s.number = len(s.Stand.Visit.Draws) + 1
	s.By = s.sheet.Get(needle.DrawnBy)
	return s.Draw(exam.DrawLine{Number: s.number, Phase: exam.DrawReady, Order: &o, Checks: given})
}
