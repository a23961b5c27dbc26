package injection

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/volume"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// resume asks what happened to a needle that went in before this screen was open:
// nothing is lost, and nothing is made up.
func (s *screen) resume(i exam.Injection, a exam.Attempt) flow.Part {
	s.By = s.Deps.Person(s.Stand.Visit) // who says it now
	line := exam.InjectionLine{Number: i.Number, Afterwards: true}
	options := []flow.Option{
		{Letter: "g", Words: "it was given", Hint: "how much is asked next", Do: func() tea.Cmd { s.Show(s.howMuch(i)); return nil }},
		{Letter: "k", Words: "it was given, how much is not known", Hint: "it counts as a dose, without an amount", Do: func() tea.Cmd {
			l := line
			l.Phase, l.NotKnown = exam.InjectionGiven, true
			return s.Give(l)
		}},
		{Letter: "e", Words: "something else went in", Hint: "another product or route, asked next", Do: func() tea.Cmd {
			s.Show(s.other(func() flow.Part { return s.resume(i, a) }, i, true))
			return nil
		}},
		{Letter: "o", Words: "the needle came out, nothing was given", Hint: "a new needle and another place come next", Do: func() tea.Cmd {
			l := line
			l.Phase = exam.InjectionNotFound
			return s.Inject(l)
		}},
		{Letter: "n", Words: "nothing was given, and it is stopped", Do: func() tea.Cmd {
			l := line
			l.Phase, l.Why = exam.InjectionStopped, "interrupted: needle out, nothing given"
			return s.Inject(l)
		}},
		{Letter: "u", Words: "nobody knows whether anything went in", Hint: "written down as stopped, amount not known: tell the vet", Do: func() tea.Cmd {
			l := line
			l.Phase, l.Why, l.NotKnown = exam.InjectionStopped, "interrupted: nobody can say whether anything went in", true
			return s.Inject(l)
		}},
		{Letter: "i", Words: "the needle is in now, nothing was given yet", Hint: "the injection goes on from here", Do: func() tea.Cmd {
			s.lately, s.vein, s.By = a.Seq, 0, i.By
			if a.Seen != "" { // what was seen then is looked at again
				s.vein = needle.AfterDrip
			}
			s.Screen.Next()
			return nil
		}},
	}
	return &flow.Pick{S: s.Screen, Cursor: -1, Options: options, Head: func(width int) []string {
		said := "nothing was said of it since"
		if a.Seen != "" {
			said = string(a.Seen)
		}
		return s.Asks(
			width, fmt.Sprintf("The needle went in at %s; what happened?", a.At.Format("2006-01-02 15:04")),
			fmt.Sprintf("%s, %s mL, %s", exam.CleanLine(i.Order.Product, 40), volume.Plain(i.Order.VolumeML), a.Place),
			fmt.Sprintf("by %s; %s", exam.CleanLine(a.By, 40), said),
		)
	}}
}

// howMuch asks how much was given before the interruption.
func (s *screen) howMuch(i exam.Injection) flow.Part {
	answers := flow.Blank()
	fields := []needle.Field{{Key: inML, Label: "went in, mL", Limit: 12, Check: checkGiven, Hint: func(text string) string { return compared(i.Order, text) }}}
	return flow.NewSheet(s.Screen, "given: write it down", "given", answers, fields, nil, func() tea.Cmd {
		ml, _ := needle.ML(answers.Get(inML))
		return s.Give(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, Afterwards: true})
	})
}
