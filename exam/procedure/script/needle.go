package script

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/exam/volume"
)

// placing is the choice of the site; the gate is asked again.
func (s *injection) placing(i exam.Injection) *Question {
	stop := Option{Key: "x", Words: "not given", Hint: "write down that it is not given, and why", Do: func() Move { return next(s.notGiven(i)) }}
	n := len(i.Attempts)
	if _, err := s.Covering(i.Order, i.Number, s.Now()); err != nil {
		shown := err
		if n > 0 && i.Attempts[n-1].Seen == exam.InjectionPulsing {
			shown = fmt.Errorf("Needle out, press on it, give nothing, tell the vet. %w", err)
		}
		return locked(shown, stop)
	}
	uses := s.Uses()
	_, proposed := procedure.Propose(i.Order.Route, uses, s.Visit.ID, s.Now())
	note, over := s.Rules.OverLimit(i.Order.Route, i.Order.VolumeML)
	if over {
		note += " What goes into another site is another injection, with its own line."
	}
	before := ""
	if n > 0 {
		note = fmt.Sprintf("Needle %d came out (%s). A new needle, another place. ", n, i.Attempts[n-1].Seen) + note
		before = i.Attempts[n-1].Needle
	}
	return &Question{
		ID: "injection site", Moment: moment(i), Ask: "Where does the needle go in?", More: []Option{stop},
		Places: &Places{procedure.Places(i.Order.Route, uses, s.Visit.ID, s.Now()), proposed, note, func(c procedure.Choice) Move {
			line := exam.InjectionLine{Number: i.Number, Phase: exam.InjectionNeedleIn, Place: c.Place()}
			if err := authorization.CheckInjection(s.Visit, line, s.Now()); err != nil && n > 0 { // the gate refuses it too, but only when the needle is in
				return say(err.Error())
			}
			return next(inserting(c, moment(i), before, needlesOf(i.Order.Route), func(at exam.Place, which string) Move {
				s.lately, s.vein = s.Visit.Entries+1, 0
				line.Place, line.Needle = at, which
				return write(inject(line))
			}, func() *Question { return s.placing(i) }))
		}},
	}
}

func moment(i exam.Injection) procedure.Moment {
	if i.Order.Route == exam.RouteIV {
		return procedure.AtVein
	}
	return procedure.AtInjection
}

// needlesOf are the needles of the trade for a route, one a line.
func needlesOf(route exam.Route) string {
	var lines []string
	for _, n := range procedure.Needles() {
		if n.Route != route {
			continue
		}
		line := n.Gauge + " G, " + n.Length
		if n.For != "" {
			line = n.For + ": " + line
		}
		if n.Why != "" {
			line += " (" + n.Why + ")"
		}
		lines = append(lines, line)
	}
	return strings.Join(lines, "\n")
}

// inserting is the question before the needle goes in: which needle, and i when it
// is in.
func inserting(c procedure.Choice, m procedure.Moment, before, needles string, in func(at exam.Place, needle string) Move, back func() *Question) *Question {
	const which, nearer = "needle", "nearer"
	a := order.Answers{which: before}
	head := append([]Text{{Words: c.Place().String(), Tone: Strong, Cut: true}, {Words: procedure.NeedleRule}}, plain(strings.Split(needles, "\n")...)...)
	head = append(head, plain(c.Site.Find, "Stand: "+c.Site.Stand, "For: "+c.Site.For, "Against: "+c.Site.Against, "")...)
	return &Question{
		ID: "needle", Moment: m, Head: head, Back: back,
		Form: &Form{
			Fields: []order.Field{
				{Key: which, Label: "needle", Ask: "Needle, gauge and length?", Limit: 40, Hint: func(string) string { return "gauge and length, as 20 G, 1.5 in" }},
				{Key: nearer, Label: "nearer", Limit: 80, Spare: true, Hint: func(string) string { return "anything nearer about the place, in words; may stay empty" }},
			},
			To: a, Action: "i: the needle is in", Does: "needle is in", Only: Option{Key: "i", Words: "needle is in", Hint: "write down that the needle is in", Also: []string{"in"}},
			AtEnd: true, Done: func() Move {
				at := c.Place()
				at.Words = a.Get(nearer)
				return in(at, a.Get(which))
			},
		},
	}
}

// asking is a question while a needle is in: a letter answers it, enter alone does
// not.
func (s *injection) asking(id string, i exam.Injection, a exam.Attempt, question string, options []Option) *Question {
	return &Question{
		ID: id, Moment: moment(i), Leaving: leaving, Options: options, More: s.stopKey(i),
		Head: append(plain("Needle in: "+a.Place.String(), ""), asks(question)...),
	}
}

func (s *injection) stopKey(i exam.Injection) []Option {
	return []Option{{Key: "x", Words: "stopped", Hint: "write down that it was stopped, why, and how much went in", Also: []string{"stop"}, Do: func() Move { return next(s.stopping(i)) }}}
}

// seeing asks what is seen once the needle is in.
func (s *injection) seeing(i exam.Injection, a exam.Attempt) *Question {
	if i.Order.Route == exam.RouteIV {
		return s.inVein(i, a)
	}
	var options []Option
	for _, seen := range Aspirated() {
		options = append(options, Option{Key: seen.Press, Words: seen.Words, Hint: seen.Then, Do: func() Move {
			return write(inject(exam.InjectionLine{Number: i.Number, Phase: seen.Phase}))
		}})
	}
	q := s.asking("injection aspirate", i, a, "Draw the syringe back. What is seen?", options)
	q.Rehearsed = true
	return q
}

// inVein asks one of the questions of a vein. The last of them comes after the line
// "blood drips, no pulse" is written; no blood then is a sign of danger.
func (s *injection) inVein(i exam.Injection, a exam.Attempt) *Question {
	var options []Option
	for _, seen := range InVein(s.vein) {
		options = append(options, Option{Key: seen.Press, Words: seen.Words, Hint: seen.Then, Do: func() Move {
			switch {
			case seen.Phase == "" && s.vein == AfterDrip:
				s.vein++
				return next(s.give(i, a))
			case seen.Phase == "":
				s.vein++
				return next(s.inVein(i, a))
			case s.vein == AfterDrip:
				d, _ := procedure.FindDanger(procedure.Beside)
				return next(s.dangerous(i, d, "no blood comes back"))
			}
			return write(inject(exam.InjectionLine{Number: i.Number, Phase: seen.Phase}))
		}})
	}
	return s.asking(fmt.Sprintf("injection vein %d", s.vein+1), i, a, procedure.VeinQuestions()[s.vein].Asks, options)
}

// giving is the last look before the product goes in: the gate is asked once more.
func (s *injection) giving(i exam.Injection, a exam.Attempt) *Question {
	if _, err := s.Covering(i.Order, i.Number, s.Now()); err != nil {
		q := locked(fmt.Errorf("%w The needle comes out and nothing is given: x writes it down", err), s.stopKey(i)...)
		if q.Ends = err; a.Place.Site != "" {
			q.Ask = "The needle comes out and nothing is given."
			q.First = []exam.Entry{inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: "locked before it was given: " + err.Error()})}
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
func (s *injection) give(i exam.Injection, a exam.Attempt) *Question {
	went := order.Answers{}
	g := Option{Key: "g", Words: fmt.Sprintf("given: %s mL, as ordered", volume.Plain(i.Order.VolumeML)), Also: []string{"given"}, Rest: "a", Do: func() Move {
		return s.given(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: i.Order.VolumeML, Disposal: went.Get(disposal)})
	}}
	if i.Order.Route.Needled() {
		went.Put(disposal, SharpsBox)
		g.Words += "; the needle is in the " + SharpsBox
		g.Then = &Form{Fields: []order.Field{needleWent()}, To: went}
	}
	back := func() *Question { return s.give(i, a) }
	q := &Question{
		ID: "injection give", Moment: moment(i), More: s.stopKey(i), Head: s.giveHead(i, a),
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
	return order.Field{Key: disposal, Label: "needle went", Ask: "Where did the needle go? Not capped again.", Limit: 60}
}

// giveHead is what is given, where, and what to look for.
func (s *injection) giveHead(i exam.Injection, a exam.Attempt) []Text {
	o := i.Order
	head := []Text{{Words: fmt.Sprintf("Give %s mL of %s, %s", volume.Plain(o.VolumeML), notation.CleanLine(o.Product, 60), o.Route), Tone: Strong, Cut: true}}
	if a.Place.Site != "" {
		head = append(head, Text{Words: fmt.Sprintf("at %s: %s", a.Place, a.Seen), Cut: true})
	}
	if o.Route == exam.RouteIV {
		head = append(head, Text{Words: "In the middle draw back again: no blood, stop (x)."})
	}
	return append(head, Text{Words: "Dose as ordered: " + o.Dose, Cut: true})
}

// amount asks how much really went in, and where the needle went.
func (s *injection) amount(i exam.Injection, a exam.Attempt, back func() *Question) *Question {
	went := order.Answers{}
	fields := []order.Field{wentIn(i.Order)}
	if i.Order.Route.Needled() {
		went.Put(disposal, SharpsBox)
		fields = append(fields, needleWent())
	}
	return &Question{
		ID: "injection amount", Back: back, Head: append(s.giveHead(i, a), Text{}), More: s.stopKey(i),
		Form: &Form{Fields: fields, To: went, Action: "given: write it down", Does: "given", Done: func() Move {
			ml, _ := order.ML(went.Get(inML))
			return s.given(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, Disposal: went.Get(disposal)})
		}},
	}
}

// wentIn is the amount that really went in, set beside what was ordered.
func wentIn(o exam.Order) order.Field {
	return order.Field{Key: inML, Label: "went in, mL", Ask: "How many mL went in?", Limit: 12, Check: order.Above("nothing went in? Then it was stopped: esc, and x"), Hint: func(text string) string {
		ml, err := order.ML(text)
		switch {
		case err != nil:
			return "what really went in"
		case ml > o.VolumeML*1.0001:
			return fmt.Sprintf("! more than the order of %s mL: is the point in its place? It is saved, and told to the vet.", volume.Plain(o.VolumeML))
		case ml < o.VolumeML*0.9999:
			return fmt.Sprintf("less than the order of %s mL: it is told to the vet; if it was stopped, esc and x say why", volume.Plain(o.VolumeML))
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
		done: func(why string, ml float64, known bool) Move {
			return write(inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why, VolumeML: ml, NotKnown: !known}))
		},
	}.begin()
}

// notGiven asks why it is not given; no needle is in, so nothing went in.
func (s *injection) notGiven(i exam.Injection) *Question {
	return stop{
		id: "injection not given", asks: "Not given. Why?", reasons: WhyNotGiven(), back: back(s),
		done: func(why string, _ float64, _ bool) Move {
			return write(inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why}))
		},
	}.begin()
}

// dangerous is stopping for a sign of danger.
func (s *injection) dangerous(i exam.Injection, d procedure.Danger, seen string) *Question {
	return stop{
		id: "injection danger", why: d.Title + ": " + seen, amount: howMuchIn, back: back(s),
		done: func(_ string, ml float64, known bool) Move {
			return write(inject(procedure.Stopped(i.Number, d, seen, ml, known)))
		},
	}.begin()
}

// resume asks what happened to a needle that went in before this script ran:
// nothing is lost, and nothing is made up.
func (s *injection) resume(i exam.Injection, a exam.Attempt) *Question {
	s.by = "" // who says it now
	line := func(phase exam.InjectionPhase, why string, known bool) exam.InjectionLine {
		return exam.InjectionLine{Number: i.Number, Phase: phase, Why: why, NotKnown: !known, Afterwards: true}
	}
	stored := func(l exam.InjectionLine) func() Move { return func() Move { return write(inject(l)) } }
	said := "nothing was said of it since"
	if a.Seen != "" {
		said = string(a.Seen)
	}
	return &Question{
		ID: "injection resume",
		Head: asks(
			fmt.Sprintf("The needle went in at %s; what happened?", a.At.Format("2006-01-02 15:04")),
			fmt.Sprintf("%s, %s mL, %s", notation.CleanLine(i.Order.Product, 40), volume.Plain(i.Order.VolumeML), a.Place),
			fmt.Sprintf("by %s; %s", notation.CleanLine(a.By, 40), said),
		),
		Options: []Option{
			{Key: "g", Words: "it was given", Hint: "how much is asked next", Do: func() Move { return next(s.howMuch(i)) }},
			{Key: "k", Words: "it was given, how much is not known", Hint: "it counts as a dose, without an amount", Do: func() Move { return s.given(line(exam.InjectionGiven, "", false)) }},
			{Key: "e", Words: "something else went in", Hint: "another product or route, asked next", Do: func() Move {
				return next(s.somethingElse(i, true, func() *Question { return s.resume(i, a) }))
			}},
			{Key: "o", Words: "the needle came out, nothing was given", Hint: "a new needle and another place come next", Do: stored(line(exam.InjectionNotFound, "", true))},
			{Key: "n", Words: "nothing was given, and it is stopped", Do: stored(line(exam.InjectionStopped, "interrupted: needle out, nothing given", true))},
			{
				Key: "u", Words: "nobody knows whether anything went in", Hint: "written down as stopped, amount not known: tell the vet",
				Do: stored(line(exam.InjectionStopped, "interrupted: nobody can say whether anything went in", false)),
			},
			{Key: "i", Words: "the needle is in now, nothing was given yet", Hint: "the injection goes on from here", Do: func() Move {
				if s.lately, s.vein = a.Seq, 0; a.Seen != "" { // what was seen then is looked at again
					s.vein = AfterDrip
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
		Form: &Form{Fields: []order.Field{wentIn(i.Order)}, To: a, Action: "given: write it down", Does: "given", Done: func() Move {
			ml, _ := order.ML(a.Get(inML))
			return s.given(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml, Afterwards: true})
		}},
	}
}
