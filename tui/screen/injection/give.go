package injection

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

const (
	inML     = "mL"
	disposal = "disposal"
)

// giving is the last look before the product goes in: the gate is asked once more.
func (s *screen) giving(i exam.Injection) flow.Part {
	a, in := i.NeedleIn()
	if in && a.Seq != s.lately {
		return s.resume(i, a)
	}
	if _, err := s.Stand.Covering(i.Order, s.Deps.Now()); err != nil {
		return flow.NewLocked(s.Screen, fmt.Errorf("%w The needle comes out and nothing is given: x writes it down", err), s.stopKey(i)...)
	}
	s.Tell(s.moment(i))
	if i.Order.Route == exam.RouteIV && s.vein <= needle.AfterDrip {
		s.vein = needle.AfterDrip
		return s.drawnBack(i, a)
	}
	return s.give(i, a)
}

// drawnBack asks the last question of a vein, after the blood dripped.
func (s *screen) drawnBack(i exam.Injection, a exam.Attempt) flow.Part {
	var options []flow.Option
	for _, seen := range needle.InVein(needle.AfterDrip) {
		options = append(options, flow.Option{Words: seen.Words, Hint: seen.Then, Do: func() tea.Cmd {
			if seen.Phase != "" {
				d, _ := procedure.FindDanger(procedure.Beside)
				s.Show(s.dangerous(i, d, "no blood comes back"))
				return nil
			}
			s.vein = needle.AfterDrip + 1
			s.Show(s.give(i, a))
			return nil
		}})
	}
	return s.pick(i, a, procedure.VeinQuestions()[needle.AfterDrip].Asks, options)
}

// give asks how much really went in.
func (s *screen) give(i exam.Injection, a exam.Attempt) flow.Part {
	answers := flow.Blank()
	answers.Put(inML, volume.Plain(i.Order.VolumeML))
	answers.Put(disposal, "sharps box")
	fields := []needle.Field{
		{Key: inML, Label: "went in, mL", Limit: 12, Check: checkGiven, Hint: func(text string) string { return compared(i.Order, text) }},
		{Key: disposal, Label: "needle went", Limit: 60},
	}
	if !i.Order.Route.Needled() {
		fields = fields[:1]
		answers.Put(disposal, "")
	}
	head := func(width int) []string {
		o, t := i.Order, s.Deps.Theme
		lines := []string{t.Strong.Render(layout.Cut(fmt.Sprintf("Give %s mL of %s, %s", volume.Plain(o.VolumeML), exam.CleanLine(o.Product, 60), o.Route), width))}
		if a.Place.Site != "" {
			lines = append(lines, fmt.Sprintf("at %s: %s", a.Place, a.Seen))
		}
		if o.Route == exam.RouteIV {
			lines = append(lines, layout.Wrap("In the middle draw back again: no blood, stop (x).", width)...)
		}
		return append(lines, layout.Cut("Dose as ordered: "+o.Dose, width), "")
	}
	sheet := flow.NewSheet(s.Screen, "given: write it down", "given", answers, fields, head, func() tea.Cmd {
		ml, _ := needle.ML(answers.Get(inML))
		return s.Give(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, Disposal: answers.Get(disposal)})
	}, s.stopKey(i)...).ToEnd()
	if a.Place.Site != "" {
		sheet.Leaving = leaving
	}
	return sheet
}

func checkGiven(text string) error {
	ml, err := needle.ML(text)
	if err == nil && ml <= 0 {
		return &exam.Refusal{Why: "nothing went in? Then it was stopped: x on the last line"}
	}
	return err
}

// compared sets what was given beside what was ordered.
func compared(o exam.Order, text string) string {
	ml, err := needle.ML(text)
	switch {
	case err != nil:
		return "what really went in"
	case ml > o.VolumeML*1.0001:
		return fmt.Sprintf("! more than the order of %s mL: is the point in its place?", volume.Plain(o.VolumeML))
	case ml < o.VolumeML*0.9999:
		return fmt.Sprintf("less than the order of %s mL: if it was stopped, x on the last line says why", volume.Plain(o.VolumeML))
	}
	return "as ordered"
}

// stopping asks why it was stopped and how much went in.
func (s *screen) stopping(i exam.Injection, why, ml string) flow.Part {
	return flow.NewStop(s.Screen, why, "went in, mL", ml, func(why string, ml float64, known bool) tea.Cmd {
		return s.Inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why, VolumeML: ml, NotKnown: !known})
	}, s.Next)
}

// dangerous is stopping for a sign of danger.
func (s *screen) dangerous(i exam.Injection, d procedure.Danger, seen string) flow.Part {
	return flow.NewStop(s.Screen, d.Title+": "+seen, "went in, mL", "", func(why string, ml float64, known bool) tea.Cmd {
		return s.Inject(procedure.Stopped(i.Number, d, seen, ml, known))
	}, s.Next)
}
