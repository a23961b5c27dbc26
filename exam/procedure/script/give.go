package script

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

// giving is the last look before the product goes in: the gate is asked once more.
func (s *injection) giving(i exam.Injection, a exam.NeedleAttempt) *Question {
	if _, err := s.Covering(i.Order, i.Number, s.Now()); err != nil {
		q := locked(fmt.Errorf("%w The needle comes out and nothing is given: x saves it", err), s.stopKey(i)...)
		if q.Ends = err; a.Place.Site != "" {
			q.Ask = "The needle comes out and nothing is given."
			q.First = []exam.Entry{inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: exam.StopReason("locked before it was given: " + err.Error())})}
		}
		return q
	}
	if i.Order.Route == exam.RouteIV && s.vein <= AfterDrip {
		s.vein = AfterDrip
		return s.inVein(i, a)
	}
	return s.give(i, a)
}

const (
	inML     = "mL"
	disposal = "disposal"
)

// give asks whether it went in as ordered, which is one key, or another amount.
func (s *injection) give(i exam.Injection, a exam.NeedleAttempt) *Question {
	went := order.Answers{}
	g := Option{Key: "g", Words: fmt.Sprintf("given: %s mL, as ordered", volume.Plain(i.Order.VolumeML)), Also: []string{"given"}, Rest: "a", Do: func() Move {
		return s.given(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: i.Order.VolumeML, Disposal: exam.ReadDisposal(went.Get(disposal))})
	}}
	if i.Order.Route.Needled() {
		went.Put(disposal, exam.SharpsBox.String())
		g.Words += "; the needle is in the " + exam.SharpsBox.String()
		g.Then = &Form{Fields: []order.Field{needleWent()}, To: went}
	}
	back := func() *Question { return s.give(i, a) }
	q := &Question{
		ID: "injection give", Stage: stage(i), More: s.stopKey(i), Head: s.giveHead(i, a),
		Options: []Option{
			g,
			{Key: "a", Words: "another amount, typed next", Do: func() Move { return next(s.amount(i, a, back)) }},
			{Key: order.Else, Words: "something else went in: another product or route", Also: []string{"other"}, Do: func() Move { return next(s.somethingElse(i, false, back)) }},
		},
	}
	if a.Place.Site != "" {
		q.Leaving = leaving
	}
	return q
}

func needleWent() order.Field {
	return order.Field{Key: disposal, Label: "needle went", Ask: "Where did the needle go? Do not recap.", Limit: 60}
}

// giveHead is what is given, where, and what to look for.
func (s *injection) giveHead(i exam.Injection, a exam.NeedleAttempt) []Text {
	o := i.Order
	head := []Text{{Words: fmt.Sprintf("Give %s mL of %s, %s", volume.Plain(o.VolumeML), notation.CleanLine(o.Product, 60), o.Route), Tone: Strong}}
	if a.Place.Site != "" {
		head = append(head, Text{Words: fmt.Sprintf("at %s: %s", a.Place, a.Seen)})
	}
	if o.Route == exam.RouteIV {
		head = append(head, Text{Words: "In the middle draw back again: no blood, stop (x)."})
	}
	head = append(head, Text{Words: "Dose as ordered: " + o.Dose})
	if a.Place.Site == "" {
		return head
	}
	return append(head, s.setSince(a.At)...)
}

// amount asks how much really went in, and where the needle went.
func (s *injection) amount(i exam.Injection, a exam.NeedleAttempt, back func() *Question) *Question {
	went := order.Answers{}
	fields := []order.Field{wentIn(i.Order)}
	if i.Order.Route.Needled() {
		went.Put(disposal, exam.SharpsBox.String())
		fields = append(fields, needleWent())
	}
	return &Question{
		ID: "injection amount", Back: back, Head: append(s.giveHead(i, a), Text{}), More: s.stopKey(i),
		Form: &Form{Fields: fields, To: went, Action: "given: save it", Does: "given", Done: func() Move {
			ml, _ := order.ML(went.Get(inML))
			return s.given(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, Disposal: exam.ReadDisposal(went.Get(disposal))})
		}},
	}
}

// wentIn is the amount that really went in, set beside what was ordered.
func wentIn(o exam.Order) order.Field {
	return order.Field{Key: inML, Label: "given, mL", Ask: "How many mL went in?", Limit: 12, Check: order.Above("nothing went in? Then it was stopped: esc, and x"), Hint: func(text string) string {
		ml, err := order.ML(text)
		switch {
		case err != nil:
			return "what really went in"
		case ml > o.VolumeML*1.0001:
			return fmt.Sprintf("Check: more than the order of %s mL: is the decimal point right? It is saved; tell the vet.", volume.Plain(o.VolumeML))
		case ml < o.VolumeML*0.9999:
			return fmt.Sprintf("less than the order of %s mL: tell the vet. If it was stopped: esc, then x", volume.Plain(o.VolumeML))
		}
		return "as ordered"
	}}
}

// somethingElse writes down what really went in, where it was not what was ordered;
// afterwards says that it is remembered, not seen.
func (s *injection) somethingElse(i exam.Injection, afterwards bool, back func() *Question) *Question {
	a := order.Answers{order.Product: i.Order.Product, order.Route: string(i.Order.Route)}
	return &Question{
		ID: "injection something else", Back: back, More: s.stopKey(i),
		Form: &Form{Fields: order.SomethingElse(i.Order), To: a, Action: "save what went in", Does: "save", Done: func() Move {
			line := order.ElseLine(i, a.Get)
			line.Afterwards = afterwards
			return s.given(line)
		}},
	}
}

// howMuchIn is what is asked of an injection that ends before it is given.
const howMuchIn = "How much went in?"

// stopping asks why it was stopped and how much went in.
func (s *injection) stopping(i exam.Injection) *Question {
	return stop{
		id: "injection stopped", asks: "Stopped. Why?", reasons: WhyStopped(), amount: howMuchIn, back: back(s),
		more: []Option{{Key: order.Else, Words: "something else went in: another product or route", Do: func() Move {
			return next(s.somethingElse(i, true, func() *Question { return s.stopping(i) })) // what was not asked before it went in is not asked now
		}}},
		done: func(why exam.StopReason, ml float64, known bool) Move {
			return write(inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why, VolumeML: ml, NotKnown: !known}))
		},
	}.begin()
}

// notGiven asks why it is not given; no needle is in, so nothing went in.
func (s *injection) notGiven(i exam.Injection) *Question {
	return stop{
		id: "injection not given", asks: "Not given. Why?", reasons: WhyNotGiven(), back: back(s),
		done: func(why exam.StopReason, _ float64, _ bool) Move {
			return write(inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why}))
		},
	}.begin()
}

// dangerous is stopping for a sign of danger.
func (s *injection) dangerous(i exam.Injection, d procedure.Danger, seen string) *Question {
	return stop{
		id: "injection danger", why: exam.StopReason(d.Title + ": " + seen), amount: howMuchIn, back: back(s),
		done: func(_ exam.StopReason, ml float64, known bool) Move {
			return write(inject(procedure.Stopped(i.Number, d, seen, ml, known)))
		},
	}.begin()
}
