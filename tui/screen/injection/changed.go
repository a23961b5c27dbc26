package injection

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// refused says that the order is not what the veterinarian decided. One key leads
// to the veterinarian's changed order, one back to the form.
func (s *screen) refused(o exam.Order, why error) flow.Part {
	return &flow.Pick{
		S: s.Screen, Cursor: -1, Back: s.ordering,
		Head: func(width int) []string {
			t := s.Deps.Theme
			return append([]string{"", t.Alarm.Render("REFUSED"), ""}, s.Asks(width, why.Error(), "", "Nothing is given yet.")...)
		},
		Options: []flow.Option{
			{Letter: "v", Words: "the veterinarian changed the order", Hint: "the new words and the name come next", Do: func() tea.Cmd {
				s.Show(s.changing(o, why))
				return nil
			}},
			{Letter: "b", Words: "back to the order form", Do: func() tea.Cmd { s.Show(s.ordering()); return nil }},
		},
	}
}

// changing asks for the changed order and saves it as a new decision.
func (s *screen) changing(o exam.Order, why error) flow.Part {
	changed := needle.NewChanged(s.Stand, s.sheet.Cover, o)
	head := func(width int) []string {
		return s.Asks(width, "The veterinarian's changed order of "+exam.CleanLine(s.sheet.Cover.Product, 60)+":")
	}
	sheet := flow.NewSheet(s.Screen, "save the changed order", "save", changed, changed.Fields(), head, func() tea.Cmd {
		e, err := changed.Entry(s.ID, s.Deps.Person(s.Stand.Visit), s.Deps.Now())
		if err != nil {
			s.Say(err.Error())
			return nil
		}
		s.By, s.onward = e.By, true
		return s.Write(e)
	})
	return flow.BackTo(sheet, s.Screen, func() flow.Part { return s.refused(o, why) })
}

// taken goes on with the order form under the decision as it stands now; after a
// changed order straight to the check list.
func (s *screen) taken(open []exam.Cover) flow.Part {
	s.sheet.Renew(s.Stand) // what was decided since is in it
	for _, c := range open {
		if needle.Same(c, s.sheet.Cover) && c != s.sheet.Cover {
			s.sheet.Change(c)
			break
		}
	}
	if s.onward {
		s.onward = false
		return s.listed()
	}
	return s.ordering()
}
