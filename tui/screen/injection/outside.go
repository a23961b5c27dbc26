package injection

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// byVet writes down what the veterinarian gave with their own hands, or ordered
// aloud in an emergency, without an earlier decision.
func (s *screen) byVet() flow.Part {
	o := needle.NewOutside(s.Deps, s.Stand)
	head := func(width int) []string {
		return s.Asks(width, "What the veterinarian gave, or ordered aloud in an emergency:")
	}
	sheet := flow.NewSheet(s.Screen, "save what was given", "save", o, o.Fields(), head, func() tea.Cmd {
		line, err := o.Line()
		if err != nil {
			s.Say(err.Error())
			return nil
		}
		s.By, s.number, s.outside = o.Get(needle.GivenBy), line.Number, false
		return s.Give(line)
	})
	sheet.Leaving = "Nothing is saved yet. esc again leaves, and what was typed is lost."
	return sheet
}

// other writes down what really went in, where it was not what was ordered;
// afterwards says that it is remembered, not seen.
func (s *screen) other(back func() flow.Part, i exam.Injection, afterwards bool) flow.Part {
	answers := flow.Blank()
	answers.Put(needle.Product, i.Order.Product)
	answers.Put(needle.Route, string(i.Order.Route))
	sheet := flow.NewSheet(s.Screen, "save what went in", "save", answers, needle.SomethingElse(i.Order), nil, func() tea.Cmd {
		line := needle.ElseLine(i, answers.Get)
		line.Afterwards = afterwards
		return s.Give(line)
	}, s.stopKey(i)...)
	return flow.BackTo(sheet, s.Screen, back)
}
