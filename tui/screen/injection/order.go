package injection

import (
	"errors"

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
		return []string{s.Deps.Theme.Strong.Render(layout.Cut("Decided: "+exam.CleanLine(s.sheet.Cover.Text(), 0), width))}
	}
	sheet := flow.NewSheet(s.Screen, "to the check list", "check list", s.sheet, s.sheet.Fields(), head, s.check)
	sheet.Leaving = "Nothing is written down yet. esc again leaves, and what was typed is lost."
	s.form = sheet
	return sheet
}

// filled is the order form as it stands, the cursor where it was.
func (s *screen) filled() flow.Part {
	if s.form == nil {
		return s.ordering()
	}
	return s.form
}

// check goes on to the check list, once the order is whole and the gate is open.
func (s *screen) check() tea.Cmd {
	s.Show(s.listed())
	return nil
}

// listed is the check list; where the order is not whole, the form with what is
// missing, and where it is not what was decided, that.
func (s *screen) listed() flow.Part {
	order, err := s.sheet.Order()
	var refusal *exam.Refusal
	switch {
	case errors.Is(err, exam.ErrDiffers):
		return s.refused(order, err)
	case errors.As(err, &refusal):
		s.Say(err.Error())
		return s.filled()
	case err != nil:
		return flow.NewLocked(s.Screen, err)
	}
	decided, err := s.Stand.Covering(order, 0, s.Deps.Now())
	if err != nil {
		return flow.NewLocked(s.Screen, err)
	}
	s.Tell(procedure.AtInjection)
	points := needle.Points(s.Stand, order, decided, s.sheet.Get(needle.GivenBy), s.Deps.Now())
	return flow.NewChecks(s.Screen, points, func(given []exam.Checked) tea.Cmd { return s.ready(order, given) }, s.ordering)
}

// ready writes order and check list down.
func (s *screen) ready(o exam.Order, given []exam.Checked) tea.Cmd {
	s.number = len(s.Stand.Visit.Injections) + 1
	s.By = s.sheet.Get(needle.GivenBy)
	return s.Inject(exam.InjectionLine{Number: s.number, Phase: exam.InjectionReady, Order: &o, Checks: given})
}
