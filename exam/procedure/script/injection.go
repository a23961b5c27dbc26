package script

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
)

// injection is the order, the check list, the site, the needle and what is seen,
// the product, and how it ended. It asks the gate before it begins, before the
// needle goes in and before the product does.
type injection struct {
	run
	fresh bool // another injection is wanted, not one that was begun
	sheet *order.Draft
	vein  int  // the next of procedure.VeinQuestions
	again bool // the syringe is drawn back once more: the needle was in before this script ran
	// form is the order form as it was shown last; onward goes on from a changed
	// order to the check list; outside writes down what the veterinarian gave.
	form    *Question
	onward  bool
	outside bool
}

func newInjection(at *order.Job, number int, _ Name) Script {
	return &injection{run: run{Job: at, number: max(number, 0)}, outside: number == ByVet}
}

// Begun says that the record has it.
func (s *injection) Begun() bool {
	_, ok := s.now()
	return ok
}

func (s *injection) now() (exam.Injection, bool) { return s.Visit.Injection(s.number) }

// Title names the horse and the product.
func (s *injection) Title() string {
	title := s.named("Injection")
	if i, ok := s.now(); ok {
		title += " · " + notation.CleanLine(i.Order.Product, 40)
	} else if s.sheet != nil {
		title += " · " + notation.CleanLine(s.sheet.Cover.Product, 40)
	}
	return title
}

// State says which injection it is and how far.
func (s *injection) State() string {
	i, ok := s.now()
	if !ok {
		return "new"
	}
	return fmt.Sprintf("%d: %s", i.Number, i.State)
}

// Sources says where its volume, limits, needles and sites come from.
func (s *injection) Sources() []explain.Section {
	if i, ok := s.now(); ok {
		return order.InjectionSources(i.Order, s.Rules, s.Units)
	}
	if s.sheet == nil {
		return nil
	}
	return s.sheet.Sources()
}

// Next is what comes next for the visit as it stands.
func (s *injection) Next() Move {
	if draws := s.Visit.OpenDraws(); len(draws) > 0 {
		return s.other(BloodDraw, draws[0].Number)
	}
	if open := s.Visit.OpenInjections(); len(open) > 0 && open[0].Number != s.number {
		if s.number > 0 {
			return s.other(Injection, open[0].Number)
		}
		s.number = open[0].Number
	}
	i, begun := s.now()
	if s.Visit.Elsewhere && !s.outside && (!begun || !i.Finished() && len(i.Attempts) == 0) {
		return next(s.elsewhere())
	}
	if !begun {
		return s.begin()
	}
	s.signs(i.By)
	a, in := i.NeedleIn()
	switch {
	case i.Finished():
		return next(s.ended(i))
	case in && a.Seq != s.lately:
		return next(s.resume(i, a))
	case s.sheet == nil && s.looked != i.Number && !in:
		return next(s.checkedBefore(i))
	case in && (a.Seen == "" || s.again):
		return next(s.seeing(i, a))
	case in, !i.Order.Route.Needled():
		return next(s.giving(i, a))
	}
	return next(s.placing(i))
}

// begin asks the gate, then what is to be injected.
func (s *injection) begin() Move {
	if s.outside {
		return next(s.byVet())
	}
	open, err := s.Open(s.Now())
	var left []exam.Injection // whose order is written down and nothing more
	for _, i := range s.Visit.Injections {
		if !i.Finished() && !s.fresh {
			left = append(left, i)
		}
	}
	switch {
	case err != nil && len(left) == 0:
		s.sheet = nil
		return next(locked(err))
	case s.sheet != nil:
		return s.taken(open)
	case s.chosen(open):
		return next(s.ordering())
	case len(left) > 0, len(open) > 1:
		return next(s.which(open, left))
	}
	s.sheet = order.NewDraft(s.Job, open[0])
	return next(s.ordering())
}

// chosen begins the order of what was chosen before, once, where it is still decided.
func (s *injection) chosen(open []exam.CoveredProcedure) bool {
	for _, c := range open {
		if s.Chosen.Product != "" && order.Same(c, s.Chosen) {
			s.Chosen = exam.CoveredProcedure{}
			s.fresh, s.sheet = true, order.NewDraft(s.Job, c)
			return true
		}
	}
	return false
}

// ended says what is written down and what follows: the watch, another injection.
func (s *injection) ended(i exam.Injection) *Question {
	q := &Question{
		ID: "injection ended", Stage: procedure.AtNeedleOut, Head: s.summary(i), Listed: true, Over: true,
		Ask: fmt.Sprintf("Saved: %s. %s.", i.State, Injected(i, s.Now())),
	}
	runs, ran := false, false
	for _, w := range s.Visit.Watches {
		if w.Injection == s.number {
			runs, ran = runs || w.Running(), true
		}
	}
	if runs {
		q.Options = append(q.Options, Option{Words: "observe the horse", Hint: "ctrl+w goes there from every screen", Do: func() Move {
			return Move{To: Destination{To, Watch, i.Number}}
		}})
	} else if i.WentIn() && !ran {
		q.Options = append(q.Options, Option{
			Words: "start an observation, or decline it", Hint: "ctrl+w goes there from every screen; g on the home screen sets the practice's minutes",
			Do: func() Move {
				begin := s.beginWatch(i, back(s))
				begin.Back = back(s)
				return next(begin)
			},
		})
	}
	q.Options = append(q.Options, hub(), Option{Words: "another injection", Do: func() Move {
		s.number, s.sheet, s.fresh, s.lately = 0, nil, true, 0
		return Move{}
	}})
	return q
}

// summary is what is written down.
func (s *injection) summary(i exam.Injection) []Text {
	o := i.Order
	amount := notation.FormatNumber(i.GivenML, 3) + " mL"
	if i.NotKnown {
		amount = "given amount not known"
	}
	head := []Text{
		{Words: fmt.Sprintf("Saved: %s", i.State), Tone: Strong, Cut: true},
		{Words: fmt.Sprintf("%s, lot %s, to %s", notation.CleanLine(i.Product(), 60), notation.CleanLine(o.Lot, 40), notation.Shown(o.Expiry.Last))},
		{Words: amount + ", " + i.Route().String()},
	}
	add := func(text string) { head = append(head, Text{Words: text}) }
	for _, a := range i.Attempts {
		row := notation.Clock(a.At, s.Now()) + " " + a.Place.String()
		if a.Seen != "" {
			row += ": " + a.Seen.String()
		}
		add(row)
	}
	if i.EndAt != nil {
		add(fmt.Sprintf("%s, by %s", notation.Clock(*i.EndAt, s.Now()), notation.CleanLine(i.GivenBy(), 40)))
	}
	if n := len(i.Attempts); n > 0 {
		head = append(head, s.beforeNeedle(i.Attempts[n-1].At, i.EndAt)...)
	}
	if text := i.Whose(); text != "" {
		add("It was " + text + ".")
	}
	if i.Why != "" {
		add("why: " + notation.CleanLine(i.Why.String(), 0))
	}
	if tell := i.SignWords + " " + authorization.Difference(s.Visit, i); tell != " " || i.NotKnown {
		head = append(head, tellVet(tell))
	}
	return head
}

const injectionHelp = `inject guides one injection: order, check list, site, needle, product and the
observation afterwards. A decision of the veterinarian must cover it; otherwise it
ends with code 6. It checks this at the start, before the needle and before the
product. If dose or volume differ from the decision, the veterinarian's changed
order must be saved first. One order is one dose. After an interruption it asks
what happened to the needle.

--by-vet saves what the veterinarian gave, or ordered aloud in an emergency. It
needs no earlier decision and records whose order it was.`
