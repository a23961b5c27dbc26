package injection

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// ordering is the order form.
func (s *screen) ordering() flow.Part {
	s.Tell(procedure.AtInjection)
	head := func(width int) []string {
		line := s.sheet.Cover.String()
		if s.sheet.Cover.Dose != "" {
			line += ", " + s.sheet.Cover.Dose
		}
		return []string{s.Deps.Theme.Strong.Render(layout.Cut("Decided: "+exam.CleanLine(line, 0), width))}
	}
	sheet := flow.NewSheet(s.Screen, "to the check list", "check list", s.sheet, s.sheet.Fields(), head, s.check)
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
	decided, err := s.Stand.Covering(order, s.Deps.Now())
	if err != nil {
		s.Show(flow.NewLocked(s.Screen, err))
		return nil
	}
	s.Tell(procedure.AtInjection)
	points := needle.Points(s.Stand, order, decided, s.sheet.Get(needle.GivenBy), s.Deps.Now())
	s.Show(flow.NewChecks(s.Screen, points, func(given []exam.Checked) tea.Cmd { return s.ready(order, given) }, s.ordering))
	return nil
}

// ready writes order and check list down.
func (s *screen) ready(o exam.Order, given []exam.Checked) tea.Cmd {
	s.number = len(s.Stand.Visit.Injections) + 1
	s.By = s.sheet.Get(needle.GivenBy)
	return s.Inject(exam.InjectionLine{Number: s.number, Phase: exam.InjectionReady, Order: &o, Checks: given})
}
