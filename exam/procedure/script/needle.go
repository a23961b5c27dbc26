package script

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
)

// placing is the choice of the site; the gate is asked again.
func (s *injection) placing(i exam.Injection) *Question {
	stop := Option{Key: "x", Words: "not given", Hint: "save that it is not given, and why", Do: func() Move { return next(s.notGiven(i)) }}
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
		note = fmt.Sprintf("Needle %d came out (%s). A new needle, another site. ", n, i.Attempts[n-1].Seen) + note
		before = i.Attempts[n-1].Needle
	}
	return &Question{
		ID: "injection site", Stage: stage(i), Ask: "Where does the needle go in?", More: []Option{stop},
		Places: &Places{procedure.Places(i.Order.Route, uses, s.Visit.ID, s.Now()), proposed, note, func(c procedure.OfferedPlace) Move {
			line := exam.InjectionLine{Number: i.Number, Phase: exam.InjectionNeedleIn, Place: c.Place()}
			if err := authorization.CheckInjection(s.Visit, line, s.Now()); err != nil && n > 0 { // the gate refuses it too, but only when the needle is in
				return say(err.Error())
			}
			return next(inserting(c, stage(i), before, needlesOf(i.Order.Route), func(at exam.NeedlePlace, which string) Move {
				s.lately, s.vein = s.Visit.Entries+1, 0
				line.Place, line.Needle = at, which
				return write(inject(line))
			}, func() *Question { return s.placing(i) }))
		}},
	}
}

func stage(i exam.Injection) procedure.Stage {
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
func inserting(c procedure.OfferedPlace, m procedure.Stage, before, needles string, in func(at exam.NeedlePlace, needle string) Move, back func() *Question) *Question {
	const which, nearer = "needle", "nearer"
	a := order.Answers{which: before}
	head := append([]Text{{Words: c.Place().String(), Tone: Strong, Cut: true}, {Words: procedure.NeedleRule}}, plain(strings.Split(needles, "\n")...)...)
	head = append(head, plain(c.Site.Find, "Stand: "+c.Site.Stand, "For: "+c.Site.For, "Against: "+c.Site.Against, "")...)
	return &Question{
		ID: "needle", Stage: m, Head: head, Back: back,
		Form: &Form{
			Fields: []order.Field{
				{Key: which, Label: "needle", Ask: "Needle, gauge and length?", Limit: 40, Hint: func(string) string { return "gauge and length, as 20 G, 1.5 in" }},
				{Key: nearer, Label: "site detail", Limit: 80, Spare: true, Hint: func(string) string { return "more exactly where; may stay empty" }},
			},
			To: a, Action: "i: the needle is in", Does: "needle is in", Only: Option{Key: "i", Words: "needle is in", Hint: "save that the needle is in", Also: []string{"in"}},
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
func (s *injection) asking(id string, i exam.Injection, a exam.NeedleAttempt, question string, options []Option) *Question {
	return &Question{
		ID: id, Stage: stage(i), Leaving: leaving, Options: options, More: s.stopKey(i),
		Head: slices.Concat(plain("Needle in: "+a.Place.String(), ""), asks(question), s.setSince(a.At)),
	}
}

func (s *injection) stopKey(i exam.Injection) []Option {
	return []Option{{Key: "x", Words: exam.InjectionStopped.String(), Hint: "save that it was stopped, why, and the amount", Also: []string{"stop"}, Do: func() Move { return next(s.stopping(i)) }}}
}

// seeing asks what is seen once the needle is in.
func (s *injection) seeing(i exam.Injection, a exam.NeedleAttempt) *Question {
	if i.Order.Route == exam.RouteIV {
		return s.inVein(i, a)
	}
	var options []Option
	for _, seen := range Aspirated() {
		options = append(options, Option{Key: seen.Press, Words: seen.Words, Hint: seen.Then, Do: func() Move {
			s.again = false
			return write(inject(exam.InjectionLine{Number: i.Number, Phase: seen.Phase}))
		}})
	}
	q := s.asking("injection aspirate", i, a, "Draw the syringe back. What is seen?", options)
	q.Rehearsed = true
	return q
}

// inVein asks one of the questions of a vein. The last of them comes after the line
// "blood drips, no pulse" is written; no blood then is a sign of danger.
func (s *injection) inVein(i exam.Injection, a exam.NeedleAttempt) *Question {
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
