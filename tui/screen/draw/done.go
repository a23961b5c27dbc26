package draw

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// all is the end of the draw: the needle is out, and it was what the tubes hold, or
// another amount in all.
func (s *screen) all(d exam.Draw) flow.Part {
	held := volume.Plain(d.DrawnML())
	options := []flow.Option{
		{Letter: "d", Words: held + " mL in all; the needle is out", Do: func() tea.Cmd {
			return s.Draw(exam.DrawLine{Number: d.Number, Phase: exam.DrawDone, VolumeML: d.DrawnML()})
		}},
		{Letter: "e", Words: "another amount in all; the needle is out", Do: func() tea.Cmd { s.Show(s.inAll(d)); return nil }},
	}
	return &flow.Pick{S: s.Screen, Cursor: -1, Options: options, More: s.extras(d), Leaving: leaving, Head: func(width int) []string { return s.allHead(d, width) }}
}

func (s *screen) allHead(d exam.Draw, width int) []string {
	lines := []string{s.row(d, "", width), s.Deps.Theme.Strong.Render(fmt.Sprintf("%d tubes, %s mL in them. Needle out, press on the vein.", len(d.Filled), volume.Plain(d.DrawnML())))}
	return append(lines, layout.Wrap(volume.LabelRule, width)...)
}

// inAll asks for the amount with what was thrown away.
func (s *screen) inAll(d exam.Draw) flow.Part {
	a := flow.Blank()
	a.Put(inML, volume.Plain(d.DrawnML()))
	fields := []needle.Field{{Key: inML, Label: "in all, mL", Limit: 12, Check: checkAll, Hint: func(string) string { return "what is in the tubes, and what was thrown away" }}}
	sheet := flow.NewSheet(s.Screen, "drawn, the needle is out", "drawn", a, fields, func(width int) []string { return s.allHead(d, width) }, func() tea.Cmd {
		ml, _ := needle.ML(a.Get(inML))
		return s.Draw(exam.DrawLine{Number: d.Number, Phase: exam.DrawDone, VolumeML: ml})
	})
	return flow.BackTo(sheet, s.Screen, func() flow.Part { return s.all(d) })
}

func checkAll(text string) error {
	ml, err := needle.ML(text)
	if err == nil && ml <= 0 {
		return &exam.Refusal{Why: "no blood? Then it was stopped: esc, and x"}
	}
	return err
}

// ended says what is written down, with the labels once more.
func (s *screen) ended(d exam.Draw) flow.Part {
	s.Tell(procedure.AtNeedleOut)
	options := []flow.Option{
		{Words: "after the exam", Hint: "what else was decided", Do: s.ToHub},
		{Words: "another draw", Do: func() tea.Cmd {
			s.number, s.lately = 0, 0
			s.sheet = needle.NewBloodSheet(s.Deps, s.Stand)
			s.Screen.Next()
			return nil
		}},
	}
	return &flow.Pick{S: s.Screen, Options: options, Head: func(width int) []string { return s.summary(d, width) }}
}

func (s *screen) summary(d exam.Draw, width int) []string {
	t := s.Deps.Theme
	amount := volume.Plain(d.DrawnML()) + " mL"
	if d.NotKnown {
		amount = "how much is not known"
	}
	lines := []string{t.Strong.Render(layout.Cut(fmt.Sprintf("Written down: %s, %s, by %s", d.State, amount, exam.CleanLine(d.EndBy, 40)), width))}
	for _, f := range d.Filled {
		text := fmt.Sprintf("%s, %s mL", f.Kind, volume.Plain(f.ML))
		if f.Short {
			text += ", not filled as it must be"
		}
		lines = append(lines, layout.Wrap(exam.CleanNote(text+": "+f.Label), width)...)
	}
	for _, m := range needle.TubesLeft(d) {
		lines = append(lines, t.Warn.Render(layout.Cut("not filled: "+exam.CleanLine(m.Kind, 40), width)))
	}
	if d.Why != "" {
		lines = append(lines, layout.Wrap("why: "+exam.CleanLine(d.Why, 0), width)...)
	}
	if d.Sign != "" {
		lines = append(lines, s.TellVet(d.SignWords, width)...)
	}
	return lines
}
