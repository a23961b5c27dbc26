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
	if _, err := s.Stand.Covering(i.Order, i.Number, s.Deps.Now()); err != nil {
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
		options = append(options, flow.Option{Letter: seen.Press, Words: seen.Words, Hint: seen.Then, Do: func() tea.Cmd {
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

// give asks whether it went in as ordered, which is one key, or another amount.
func (s *screen) give(i exam.Injection, a exam.Attempt) flow.Part {
	ordered := exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: i.Order.VolumeML}
	words := fmt.Sprintf("given: %s mL, as ordered", volume.Plain(i.Order.VolumeML))
	if i.Order.Route.Needled() {
		ordered.Disposal = needle.SharpsBox
		words += "; the needle is in the " + needle.SharpsBox
	}
	options := []flow.Option{
		{Letter: "g", Words: words, Do: func() tea.Cmd { return s.Give(ordered) }},
		{Letter: "a", Words: "another amount, typed next", Do: func() tea.Cmd { s.Show(s.amount(i, a)); return nil }},
		{Letter: needle.Else, Words: "something else went in: another product or route", Do: func() tea.Cmd {
			s.Show(s.other(func() flow.Part { return s.give(i, a) }, i, false))
			return nil
		}},
	}
	part := &flow.Pick{S: s.Screen, Cursor: -1, Options: options, More: s.stopKey(i), Head: func(width int) []string { return s.giveHead(i, a, width) }}
	if a.Place.Site != "" {
		part.Leaving = leaving
	}
	return part
}

// giveHead is what is given, where, and what to look for.
func (s *screen) giveHead(i exam.Injection, a exam.Attempt, width int) []string {
	o, t := i.Order, s.Deps.Theme
	lines := []string{t.Strong.Render(layout.Cut(fmt.Sprintf("Give %s mL of %s, %s", volume.Plain(o.VolumeML), exam.CleanLine(o.Product, 60), o.Route), width))}
	if a.Place.Site != "" {
		lines = append(lines, fmt.Sprintf("at %s: %s", a.Place, a.Seen))
	}
	if o.Route == exam.RouteIV {
		lines = append(lines, layout.Wrap("In the middle draw back again: no blood, stop (x).", width)...)
	}
	return append(lines, layout.Cut("Dose as ordered: "+o.Dose, width))
}

// amount asks how much really went in, and where the needle went.
func (s *screen) amount(i exam.Injection, a exam.Attempt) flow.Part {
	answers := flow.Blank()
	fields := []needle.Field{
		{Key: inML, Label: "went in, mL", Limit: 12, Check: checkGiven, Hint: func(text string) string { return compared(i.Order, text) }},
		{Key: disposal, Label: "needle went", Limit: 60},
	}
	if answers.Put(disposal, needle.SharpsBox); !i.Order.Route.Needled() {
		fields = fields[:1]
		answers.Put(disposal, "")
	}
	sheet := flow.NewSheet(s.Screen, "given: write it down", "given", answers, fields, func(width int) []string { return append(s.giveHead(i, a, width), "") }, func() tea.Cmd {
		ml, _ := needle.ML(answers.Get(inML))
		return s.Give(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, Disposal: answers.Get(disposal)})
	}, s.stopKey(i)...)
	return flow.BackTo(sheet, s.Screen, func() flow.Part { return s.give(i, a) })
}

func checkGiven(text string) error {
	ml, err := needle.ML(text)
	if err == nil && ml <= 0 {
		return &exam.Refusal{Why: "nothing went in? Then it was stopped: esc, and x"}
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
		return fmt.Sprintf("! more than the order of %s mL: is the point in its place? It is saved, and told to the vet.", volume.Plain(o.VolumeML))
	case ml < o.VolumeML*0.9999:
		return fmt.Sprintf("less than the order of %s mL: it is told to the vet; if it was stopped, esc and x say why", volume.Plain(o.VolumeML))
	}
	return "as ordered"
}

// howMuchIn is what is asked of an injection that ends before it is given.
const howMuchIn = "How much went in?"

// stopping asks why it was stopped and how much went in.
func (s *screen) stopping(i exam.Injection) flow.Part {
	other := flow.Option{Letter: needle.Else, Words: "something else went in: another product or route", Do: func() tea.Cmd {
		s.Show(s.other(func() flow.Part { return s.stopping(i) }, i, true)) // what was not asked before it went in is not asked now
		return nil
	}}
	return flow.Stop{
		S: s.Screen, Asks: "Stopped. Why?", Reasons: needle.WhyStopped(), Amount: howMuchIn, Back: s.Next, More: []flow.Option{other},
		Done: func(why string, ml float64, known bool) tea.Cmd {
			return s.Inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why, VolumeML: ml, NotKnown: !known})
		},
	}.Begin()
}

// notGiven asks why it is not given; no needle is in, so nothing went in.
func (s *screen) notGiven(i exam.Injection) flow.Part {
	return flow.Stop{
		S: s.Screen, Asks: "Not given. Why?", Reasons: needle.WhyNotGiven(), Back: s.Next,
		Done: func(why string, _ float64, _ bool) tea.Cmd {
			return s.Inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why})
		},
	}.Begin()
}

// dangerous is stopping for a sign of danger.
func (s *screen) dangerous(i exam.Injection, d procedure.Danger, seen string) flow.Part {
	return flow.Stop{
		S: s.Screen, Why: d.Title + ": " + seen, Amount: howMuchIn, Back: s.Next,
		Done: func(_ string, ml float64, known bool) tea.Cmd {
			return s.Inject(procedure.Stopped(i.Number, d, seen, ml, known))
		},
	}.Begin()
}
