package draw

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/volume"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// resume asks what happened to a needle that went in before this screen was open.
func (s *screen) resume(d exam.Draw, stick exam.Stick) flow.Part {
	s.By = s.Deps.Person(s.Stand.Visit) // who says it now
	line := exam.DrawLine{Number: d.Number, Afterwards: true}
	options := []flow.Option{
		{Letter: "d", Words: "it was drawn", Hint: "how much is asked next", Do: func() tea.Cmd { s.Show(s.howMuch(d)); return nil }},
		{Letter: "k", Words: "it was drawn, how much is not known", Do: func() tea.Cmd {
			l := line
			l.Phase, l.NotKnown = exam.DrawDone, true
			return s.Draw(l)
		}},
	}
	if len(d.Filled) == 0 {
		options = append(options, flow.Option{Letter: "o", Words: "no blood came, the needle is out", Hint: "another needle follows", Do: func() tea.Cmd {
			l := line
			l.Phase = exam.DrawMissed
			return s.Draw(l)
		}})
	}
	options = append(options,
		flow.Option{Letter: "n", Words: "it was stopped", Hint: "with what the tubes hold", Do: func() tea.Cmd {
			l := line
			l.Phase, l.Why, l.VolumeML = exam.DrawStopped, "interrupted: the needle is out", d.DrawnML()
			return s.Draw(l)
		}},
		flow.Option{Letter: "u", Words: "nobody knows", Hint: "written down as stopped, amount not known: tell the vet", Do: func() tea.Cmd {
			l := line
			l.Phase, l.Why, l.NotKnown = exam.DrawStopped, "interrupted: nobody can say how much was drawn", true
			return s.Draw(l)
		}},
		flow.Option{Letter: "i", Words: "the needle is in now", Hint: "the draw goes on from here", Do: func() tea.Cmd {
			s.lately, s.By = stick.Seq, d.By
			s.Screen.Next()
			return nil
		}})
	return &flow.Pick{S: s.Screen, Cursor: -1, Options: options, Head: func(width int) []string {
		return s.Asks(
			width, fmt.Sprintf("The needle went in at %s; what happened?", stick.At.Format("2006-01-02 15:04")),
			fmt.Sprintf("for %s, %s", exam.CleanLine(d.Order.For, 40), stick.Place),
			fmt.Sprintf("by %s; tubes filled since: %d, %s mL", exam.CleanLine(stick.By, 40), len(d.Filled), volume.Plain(d.DrawnML())),
		)
	}}
}

// howMuch asks how much was drawn before the interruption.
func (s *screen) howMuch(d exam.Draw) flow.Part {
	a := flow.Blank()
	if ml := d.DrawnML(); ml > 0 {
		a.Put(inML, volume.Plain(ml))
	}
	fields := []needle.Field{{Key: inML, Label: "in all, mL", Limit: 12, Check: checkAll}}
	return flow.NewSheet(s.Screen, "drawn: write it down", "drawn", a, fields, nil, func() tea.Cmd {
		ml, _ := needle.ML(a.Get(inML))
		return s.Draw(exam.DrawLine{Number: d.Number, Phase: exam.DrawDone, VolumeML: ml, Afterwards: true})
	})
}
