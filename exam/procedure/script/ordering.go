package script

import (
	"errors"
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
)

// which asks whether to go on with an order that was begun, or which of the
// decided products is given. Of several products none is chosen beforehand: enter alone gives none.
func (s *injection) which(open []exam.CoveredProcedure, left []exam.Injection) *Question {
	q := &Question{ID: "injection which", Listed: len(open) < 2 && len(left) < 2, Head: append([]Text{{}}, asks("What is given? Decided by the veterinarian:")...)}
	for _, i := range left {
		q.Options = append(q.Options, Option{
			Words: fmt.Sprintf("go on with injection %d, %s", i.Number, i.Order.Product), Hint: fmt.Sprintf("%s since %s", i.State, notation.Clock(i.At, s.Now())),
			Do: func() Move { s.number = i.Number; return Move{} },
		})
	}
	for _, c := range open {
		words := c.String()
		if c.Dose != "" {
			words += ", " + c.Dose
		}
		q.Options = append(q.Options, Option{Words: words, Do: func() Move {
			s.fresh, s.sheet = true, order.NewDraft(s.Job, c)
			return Move{}
		}})
	}
	return q
}

// ordering is the order form.
func (s *injection) ordering() *Question {
	s.form = &Question{
		ID: "injection order", Stage: procedure.AtInjection, Leaving: "Nothing is saved yet. esc again leaves; what was typed is lost.",
		Head: slices.Concat([]Text{{Words: "Decided: " + notation.CleanLine(s.sheet.Cover.Text(), 0), Tone: Strong, Cut: true}}, s.behind(), s.askThere()),
		Form: &Form{Fields: s.sheet.Fields(), To: s.sheet, Action: "to the check list", Does: "check list", Done: s.listed},
	}
	scan := scanned{to: s.sheet.Answers, decided: s.sheet.Cover.Product, now: s.Now, form: s.ordering}
	s.form.Form.Scan = scan.read
	return s.form
}

// listed is the check list, once the order is whole and the gate is open; where the
// order is not what was decided, that.
func (s *injection) listed() Move {
	o, err := s.sheet.Order()
	text, unwhole := refusal(err)
	switch {
	case errors.Is(err, exam.ErrDiffers):
		return next(s.refused(o, err))
	case unwhole:
		return Move{Next: s.form, Say: text}
	case err != nil:
		return next(locked(err))
	}
	decided, err := s.Covering(o, 0, s.Now())
	if err != nil {
		return next(locked(err))
	}
	return next(&Question{
		ID: "injection checks", Stage: procedure.AtInjection, Back: s.ordering,
		Checks: &CheckList{order.Points(s.Stand, o, decided, s.sheet.Get(order.GivenBy), s.Now()), func(given []exam.Checked) Move {
			s.number, s.by = len(s.Visit.Injections)+1, s.sheet.Get(order.GivenBy)
			return write(inject(exam.InjectionLine{Number: s.number, Phase: exam.InjectionReady, Order: &o, Checks: given}))
		}},
	})
}

// refused says that the order is not what the veterinarian decided. One key leads
// to the veterinarian's changed order, one back to the form.
func (s *injection) refused(o exam.Order, why error) *Question {
	return &Question{
		ID: "injection refused", Back: s.ordering, Ask: "Refused. " + why.Error() + " What now?", Numbered: true,
		Head: append([]Text{{}, {Words: "REFUSED", Tone: Alarm}, {}}, asks(why.Error(), "Nothing is given yet.")...),
		Options: []Option{
			{Key: "v", Words: "the veterinarian changed the order", Hint: "the new words and the name come next", Do: func() Move { return next(s.changing(o, why)) }},
			{Key: "b", Words: "back to the order form", Do: func() Move { return next(s.ordering()) }},
		},
		Prompts: []Option{{Words: "leave it", Do: func() Move { return Move{Fail: why} }}},
	}
}

// changing asks for the changed order and saves it as a new decision.
func (s *injection) changing(o exam.Order, why error) *Question {
	changed := order.NewChanged(s.Stand, s.sheet.Cover, o)
	return &Question{
		ID: "injection changed order", Back: func() *Question { return s.refused(o, why) },
		Head: asks("The veterinarian's changed order of " + notation.CleanLine(s.sheet.Cover.Product, 60) + ":"),
		Form: &Form{Fields: changed.Fields(), To: changed, Action: "save the changed order", Does: "save", Done: func() Move {
			e, err := changed.Entry(s.Visit.ID, s.Person, s.Now())
			if err != nil {
				return say(err.Error())
			}
			s.by, s.onward = s.Person, true
			return Move{Write: []exam.Entry{e}, Told: "The changed order is saved."}
		}},
	}
}

// taken goes on with the order form under the decision as it stands now; after a
// changed order straight to the check list.
func (s *injection) taken(open []exam.CoveredProcedure) Move {
	for _, c := range open {
		if order.Same(c, s.sheet.Cover) && c != s.sheet.Cover {
			s.sheet.Change(c)
			break
		}
	}
	if s.onward {
		s.onward = false
		return s.listed()
	}
	return next(s.ordering())
}

// byVet writes down what the veterinarian gave with their own hands, or ordered
// aloud in an emergency, without an earlier decision.
func (s *injection) byVet() *Question { return s.givenForm(order.NewOutside(s.Job)) }

// givenForm is the form of one injection that the veterinarian gave or ordered aloud.
func (s *injection) givenForm(o *order.Outside) *Question {
	scan := scanned{to: o.Answers, given: true, now: s.Now, form: func() *Question { return s.givenForm(o) }}
	return &Question{
		ID: "injection by the vet", Head: asks("What the veterinarian gave, or ordered aloud in an emergency:"),
		Leaving: "Nothing is saved yet. esc again leaves; what was typed is lost.",
		Form: &Form{Fields: o.Fields(), To: o, Action: "save what was given", Does: "save", Scan: scan.read, Done: func() Move {
			line, err := o.Line()
			if err != nil {
				return say(err.Error())
			}
			s.by, s.number, s.outside = o.Get(order.GivenBy), line.Number, false
			return s.given(line)
		}},
	}
}
