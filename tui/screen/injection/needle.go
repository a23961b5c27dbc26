package injection

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
	"loosebox/tui/screen/flow"
)

// placing is the choice of the site; the gate is asked again.
func (s *screen) placing(i exam.Injection) flow.Part {
	stop := flow.Extra{Binding: keys.NotDone().With("not given", "write down that it is not given, and why"), Do: func() tea.Cmd {
		s.Show(s.notGiven(i))
		return nil
	}}
	if _, err := s.Stand.Covering(i.Order, i.Number, s.Deps.Now()); err != nil {
		if n := len(i.Attempts); n > 0 && i.Attempts[n-1].Seen == exam.InjectionPulsing {
			err = fmt.Errorf("Needle out, press on it, give nothing, tell the vet. %w", err)
		}
		return flow.NewLocked(s.Screen, err, stop)
	}
	s.Tell(s.moment(i))
	uses := s.Stand.Uses()
	choices := procedure.Places(i.Order.Route, uses, s.ID, s.Deps.Now())
	_, proposed := procedure.Propose(i.Order.Route, uses, s.ID, s.Deps.Now())
	note, over := procedure.RulesOf(s.Deps.Settings).OverLimit(i.Order.Route, i.Order.VolumeML)
	if over {
		note += " What goes into another site is another injection, with its own line."
	}
	if n := len(i.Attempts); n > 0 {
		note = fmt.Sprintf("Needle %d came out (%s). A new needle, another place. ", n, i.Attempts[n-1].Seen) + note
	}
	return flow.NewPlaces(s.Screen, choices, proposed, note, func(c procedure.Choice) tea.Cmd { return s.inserting(i, c) }, stop)
}

func (s *screen) moment(i exam.Injection) procedure.Moment {
	if i.Order.Route == exam.RouteIV {
		return procedure.AtVein
	}
	return procedure.AtInjection
}

// inserting is the part before the needle goes in.
func (s *screen) inserting(i exam.Injection, c procedure.Choice) tea.Cmd {
	for _, a := range i.Attempts { // the gate refuses it too, but only when the needle is in
		err := exam.CheckInjection(s.Stand.Visit, exam.InjectionLine{Number: i.Number, Phase: exam.InjectionNeedleIn, Place: c.Place()}, s.Deps.Now())
		if err != nil && a.Over() {
			s.Say(err.Error())
			return nil
		}
	}
	s.Tell(s.moment(i))
	before := ""
	if n := len(i.Attempts); n > 0 {
		before = i.Attempts[n-1].Needle
	}
	s.Show(flow.NewNeedle(s.Screen, c, before, flow.NeedleHint(i.Order.Route), func(place exam.Place, which string) tea.Cmd {
		s.lately = s.Stand.Visit.Entries + 1
		s.vein = 0
		return s.Inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionNeedleIn, Place: place, Needle: which})
	}, func() flow.Part { return s.placing(i) }))
	return nil
}

const leaving = "A needle is in. esc again leaves, and what happened is asked when you come back."

// seeing asks what is seen, or after an interruption what happened.
func (s *screen) seeing(i exam.Injection) flow.Part {
	a, _ := i.NeedleIn()
	if a.Seq != s.lately {
		return s.resume(i, a)
	}
	s.Tell(s.moment(i))
	if i.Order.Route == exam.RouteIV {
		return s.question(i, a)
	}
	if p := s.Deps.Patient; p != nil && p.NeedleIn() {
		return flow.NewAsked(s.Screen)
	}
	var options []flow.Option
	for _, seen := range needle.Aspirated() {
		options = append(options, flow.Option{Letter: seen.Press, Words: seen.Words, Hint: seen.Then, Do: func() tea.Cmd {
			return s.Inject(exam.InjectionLine{Number: i.Number, Phase: seen.Phase})
		}})
	}
	return s.pick(i, a, "Draw the syringe back. What is seen?", options)
}

// question asks one of the questions before a product goes into a vein.
func (s *screen) question(i exam.Injection, a exam.Attempt) flow.Part {
	var options []flow.Option
	for _, seen := range needle.InVein(s.vein) {
		options = append(options, flow.Option{Letter: seen.Press, Words: seen.Words, Hint: seen.Then, Do: func() tea.Cmd {
			if seen.Phase == "" {
				s.vein++
				s.Show(s.question(i, a))
				return nil
			}
			return s.Inject(exam.InjectionLine{Number: i.Number, Phase: seen.Phase})
		}})
	}
	return s.pick(i, a, procedure.VeinQuestions()[s.vein].Asks, options)
}

// pick is a question while a needle is in: a letter answers it, enter alone does not.
func (s *screen) pick(i exam.Injection, a exam.Attempt, asks string, options []flow.Option) flow.Part {
	return &flow.Pick{S: s.Screen, Cursor: -1, Options: options, Leaving: leaving, More: s.stopKey(i), Head: func(width int) []string {
		return append(append(layout.Wrap("Needle in: "+a.Place.String(), width), ""), s.Asks(width, asks)...)
	}}
}

func (s *screen) stopKey(i exam.Injection) []flow.Extra {
	return []flow.Extra{{Binding: keys.NotDone().With("stopped", "write down that it was stopped, why, and how much went in"), Do: func() tea.Cmd {
		s.Show(s.stopping(i))
		return nil
	}}}
}
