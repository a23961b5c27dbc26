package script

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

// resume asks what happened to a needle that went in before this script ran:
// nothing is lost, and nothing is made up.
func (s *injection) resume(i exam.Injection, a exam.NeedleAttempt) *Question {
	s.by = "" // who says it now
	line := func(phase exam.InjectionPhase, why exam.StopReason, known bool) exam.InjectionLine {
		return exam.InjectionLine{Number: i.Number, Phase: phase, Why: why, NotKnown: !known, Afterwards: true}
	}
	stored := func(l exam.InjectionLine) func() Move { return func() Move { return write(inject(l)) } }
	said := "nothing was recorded since"
	if a.Seen != "" {
		said = a.Seen.String()
	}
	return &Question{
		ID: "injection resume",
		Head: append(asks(
			fmt.Sprintf("The needle went in at %s; what happened?", notation.ShownAt(a.At, s.Now())),
			fmt.Sprintf("%s, %s mL, %s", notation.CleanLine(i.Order.Product, 40), volume.Plain(i.Order.VolumeML), a.Place),
			fmt.Sprintf("by %s; %s", notation.CleanLine(a.By, 40), said),
		), s.setSince(a.At)...),
		Options: []Option{
			{Key: "g", Words: "it was given", Hint: "how much is asked next", Do: func() Move { return next(s.howMuch(i)) }},
			{Key: "k", Words: "it was given, how much is not known", Hint: "it counts as a dose, without an amount", Do: func() Move { return s.given(line(exam.InjectionGiven, "", false)) }},
			{Key: "e", Words: "something else went in", Hint: "another product or route, asked next", Do: func() Move {
				return next(s.somethingElse(i, true, func() *Question { return s.resume(i, a) }))
			}},
			{Key: "o", Words: "the needle came out, nothing was given", Hint: "next: a new needle and another site", Do: stored(line(exam.InjectionNotFound, "", true))},
			{Key: "n", Words: "nothing was given, and it is stopped", Do: stored(line(exam.InjectionStopped, exam.FoundOut, true))},
			{
				Key: "u", Words: "not known whether anything was given", Hint: "saved as stopped, amount not known: tell the vet",
				Do: stored(line(exam.InjectionStopped, exam.FoundUnclear, false)),
			},
			{Key: "i", Words: "the needle is in now, nothing was given yet", Hint: "the injection goes on from here", Do: func() Move {
				if s.lately, s.vein = a.Seq, 0; a.Seen != "" { // what was seen then is looked at again
					s.vein, s.again = AfterDrip, i.Order.Route != exam.RouteIV
				}
				return Move{}
			}},
		},
	}
}

// howMuch asks how much was given before the interruption.
func (s *injection) howMuch(i exam.Injection) *Question {
	a := order.Answers{}
	return &Question{
		ID: "injection amount afterwards",
		Form: &Form{Fields: []order.Field{wentIn(i.Order)}, To: a, Action: "given: save it", Does: "given", Done: func() Move {
			ml, _ := order.ML(a.Get(inML))
			return s.given(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, Afterwards: true})
		}},
	}
}

// resume asks what happened to a needle that went in before this script ran.
func (s *blood) resume(d exam.Draw, stick exam.Stick) *Question {
	s.by = "" // who says it now
	stored := func(phase exam.DrawPhase, why exam.StopReason, ml float64, known bool) func() Move {
		return func() Move {
			return write(draws(exam.DrawLine{Number: d.Number, Phase: phase, Why: why, VolumeML: ml, NotKnown: !known, Afterwards: true}))
		}
	}
	q := &Question{
		ID: "draw resume",
		Head: append(asks(
			fmt.Sprintf("The needle went in at %s; what happened?", notation.ShownAt(stick.At, s.Now())),
			fmt.Sprintf("for %s, %s", notation.CleanLine(d.Order.For, 40), stick.Place),
			fmt.Sprintf("by %s; tubes filled since: %d, %s mL", notation.CleanLine(stick.By, 40), len(d.Filled), volume.Plain(d.DrawnML())),
		), s.setSince(stick.At)...),
		Options: []Option{
			{Key: "d", Words: "it was drawn", Hint: "how much is asked next", Do: func() Move { return next(s.amount(d, "drawn: save it", "drawn", true)) }},
			{Key: "k", Words: "it was drawn, how much is not known", Do: stored(exam.DrawDone, "", 0, false)},
		},
	}
	if len(d.Filled) == 0 {
		q.Options = append(q.Options, Option{Key: "o", Words: "no blood came, the needle is out", Hint: "another needle follows", Do: stored(exam.DrawMissed, "", 0, true)})
	}
	q.Options = append(
		q.Options,
		Option{Key: "n", Words: "it was stopped", Hint: "with what the tubes hold", Do: stored(exam.DrawStopped, exam.FoundDrawOut, d.DrawnML(), true)},
		Option{
			Key: "u", Words: "not known", Hint: "saved as stopped, amount not known: tell the vet",
			Do: stored(exam.DrawStopped, exam.FoundDrawnUnclear, 0, false),
		},
		Option{Key: "i", Words: "the needle is in now", Hint: "the draw goes on from here", Do: func() Move {
			s.lately = stick.Seq
			return Move{}
		}},
	)
	return q
}
