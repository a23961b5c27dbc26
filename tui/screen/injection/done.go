package injection

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/flow"
)

// ended says what is written down and what follows: the watch, another injection.
func (s *screen) ended(i exam.Injection) flow.Part {
	s.Tell(procedure.AtNeedleOut)
	var options []flow.Option
	watch, ran := s.watch()
	if watch {
		options = append(options, flow.Option{Words: "watch the horse", Hint: "ctrl+w goes there from every screen", Do: func() tea.Cmd {
			return nav.Replace(nav.Address{Screen: nav.Watch, Visit: s.ID, Number: i.Number})
		}})
	} else if i.WentIn() && !ran {
		options = append(options, flow.Option{Words: "begin a watch, or decline it", Hint: "ctrl+w goes there from every screen; g on the home screen sets the practice's minutes", Do: func() tea.Cmd {
			s.Show(s.minutes(i))
			return nil
		}})
	}
	options = append(options,
		flow.Option{Words: "after the exam", Hint: "what else was decided", Do: s.ToHub},
		flow.Option{Words: "another injection", Do: func() tea.Cmd {
			s.number, s.sheet, s.fresh, s.lately = 0, nil, true, 0
			s.Screen.Next()
			return nil
		}})
	return &flow.Pick{S: s.Screen, Options: options, Head: func(width int) []string { return s.summary(i, width) }}
}

// watch says whether a watch of this injection runs, or ran.
func (s *screen) watch() (runs, ran bool) {
	for _, w := range s.Stand.Visit.Watches {
		if w.Injection == s.number {
			runs, ran = runs || w.Running(), true
		}
	}
	return runs, ran
}

func (s *screen) summary(i exam.Injection, width int) []string {
	t, o := s.Deps.Theme, i.Order
	lines := []string{t.Strong.Render(layout.Cut(fmt.Sprintf("Written down: %s", i.State), width))}
	amount := exam.FormatNumber(i.GivenML, 3) + " mL"
	if i.NotKnown {
		amount = "how much went in is not known"
	}
	rows := []string{fmt.Sprintf("%s, lot %s, to %s", exam.CleanLine(i.Product(), 60), exam.CleanLine(o.Lot, 40), o.Expiry.Last), amount + ", " + string(i.Route())}
	for _, a := range i.Attempts {
		row := a.At.Format("15:04") + " " + a.Place.String()
		if a.Seen != "" {
			row += ": " + string(a.Seen)
		}
		rows = append(rows, row)
	}
	if i.EndAt != nil {
		rows = append(rows, fmt.Sprintf("%s, by %s", i.EndAt.Format("15:04"), exam.CleanLine(i.GivenBy(), 40)))
	}
	if text := i.Whose(); text != "" {
		rows = append(rows, exam.CleanLine(text, 0))
	}
	if i.Why != "" {
		rows = append(rows, "why: "+exam.CleanLine(i.Why, 0))
	}
	for _, r := range rows {
		lines = append(lines, layout.Wrap(r, width)...)
	}
	tell := strings.TrimSpace(i.SignWords + " " + s.Stand.Visit.Difference(i))
	if tell != "" || i.NotKnown {
		lines = append(lines, s.TellVet(tell, width)...)
	}
	return lines
}

// minutes begins the watch.
func (s *screen) minutes(i exam.Injection) flow.Part {
	return flow.BackTo(flow.NewMinutes(s.Screen, i.Number, nil), s.Screen, s.Next)
}
