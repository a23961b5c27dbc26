package plain

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

// ByVet writes down what the veterinarian gave with their own hands, or ordered
// aloud in an emergency, without an earlier decision.
func (s *Session) ByVet(id exam.VisitID, _ int) error {
	w, err := s.work(id, nav.Injection, 0)
	if err != nil {
		return err
	}
	return w.run(w.outside)
}

// Inject goes through one injection of a visit; number 0 begins one, or goes on
// with the one whose needle is in. It returns an *exam.Locked where no decision
// covers it, and ErrLeft where the input ends before it is over.
func (s *Session) Inject(id exam.VisitID, number int) error {
	w, err := s.work(id, nav.Injection, number)
	if err != nil {
		return err
	}
	if err := w.needleFirst(); err != nil {
		return err
	}
	return w.run(w.injection)
}

// needleFirst goes to a needle that is in and not out, and refuses another one.
func (w *work) needleFirst() error {
	v := w.stand.Visit
	if open := v.OpenInjections(); len(open) > 0 {
		if w.from != nav.Injection || w.number > 0 && w.number != open[0].Number {
			return fmt.Errorf("the needle of injection %d is written down as in, and not as out: loosebox inject %s says what happened to it", open[0].Number, v.ID)
		}
		w.number = open[0].Number
	}
	if open := v.OpenDraws(); len(open) > 0 {
		if w.from != nav.Draw || w.number > 0 && w.number != open[0].Number {
			return fmt.Errorf("the needle of blood draw %d is written down as in, and not as out: loosebox draw %s says what happened to it", open[0].Number, v.ID)
		}
		w.number = open[0].Number
	}
	return nil
}

// injection is the next step of it.
func (w *work) injection() (over bool, err error) {
	i, ok := w.stand.Visit.Injection(w.number)
	if w.number > 0 && !ok {
		return false, fmt.Errorf("injection %d of this visit: %w", w.number, exam.ErrNotFound)
	}
	a, in := i.NeedleIn()
	if in && a.Seq != w.lately {
		return false, w.resume(i, a)
	}
	switch needle.StageOf(i) {
	case needle.Ordering:
		return false, w.order()
	case needle.Placing:
		return false, w.insert(i)
	case needle.Seeing:
		return false, w.see(i)
	case needle.Giving:
		return false, w.give(i, a)
	case needle.Ended:
	}
	w.ended(i)
	return true, nil
}

// order asks what is given, its label, and the check list.
func (w *work) order() error {
	open, err := w.stand.Open(w.Deps.Now())
	if err != nil {
		return err
	}
	at := 0
	if len(open) > 1 {
		words := make([]string, len(open))
		for i, c := range open {
			words[i] = c.Text()
		}
		if at, err = w.choose("What is given? Decided by the veterinarian:", words); err != nil {
			return err
		}
	}
	w.line("Decided: %s.", exam.CleanLine(open[at].Text(), 0))
	w.tell(procedure.AtInjection)
	sheet := needle.NewSheet(w.Deps, w.stand, open[at])
	sheet.Put(needle.GivenBy, w.by)
	if err := w.sheet(sheet, sheet.Fields()); err != nil {
		return err
	}
	o, err := sheet.Order()
	for errors.Is(err, exam.ErrDiffers) {
		if err = w.changed(sheet, o, err); err != nil {
			return err
		}
		o, err = sheet.Order()
	}
	var refusal *exam.Refusal
	if errors.As(err, &refusal) {
		w.line("Not taken: %s.", strings.TrimSuffix(refusal.Error(), "."))
		return errMoved
	}
	if err != nil {
		return err
	}
	if over, is := procedure.RulesOf(w.Deps.Settings).OverLimit(o.Route, o.VolumeML); is {
		w.line("Caution: %s", over)
	}
	decided, err := w.stand.Covering(o, 0, w.Deps.Now())
	if err != nil {
		return err
	}
	given, err := w.checks(needle.Points(w.stand, o, decided, sheet.Get(needle.GivenBy), w.Deps.Now()))
	if err != nil {
		return err
	}
	w.number, w.by = len(w.stand.Visit.Injections)+1, sheet.Get(needle.GivenBy)
	err = w.inject(exam.InjectionLine{Number: w.number, Phase: exam.InjectionReady, Order: &o, Checks: given})
	if err != nil {
		w.number = 0
	}
	return err
}

// insert asks for the site and waits for the needle; the gate is asked before.
func (w *work) insert(i exam.Injection) error {
	if _, err := w.stand.Covering(i.Order, i.Number, w.Deps.Now()); err != nil {
		return err
	}
	w.tell(moment(i))
	before := ""
	if n := len(i.Attempts); n > 0 {
		w.line("Needle %d came out (%s). A new needle, another place.", n, i.Attempts[n-1].Seen)
		before = i.Attempts[n-1].Needle
	}
	uses := w.stand.Uses()
	choices := procedure.Places(i.Order.Route, uses, w.stand.Visit.ID, w.Deps.Now())
	_, proposed := procedure.Propose(i.Order.Route, uses, w.stand.Visit.ID, w.Deps.Now())
	c, err := w.place("Where does the needle go in?", choices, proposed)
	if err != nil {
		return err
	}
	line := exam.InjectionLine{Number: i.Number, Phase: exam.InjectionNeedleIn, Place: c.Place()}
	if err := exam.CheckInjection(w.stand.Visit, line, w.Deps.Now()); err != nil {
		w.line("Not taken: %s.", err)
		return errMoved
	}
	var in bool
	if line.Needle, in, err = w.needleIn(before); err != nil || !in {
		return err
	}
	w.vein, w.lately = 0, w.stand.Visit.Entries+1
	return w.inject(line)
}

func moment(i exam.Injection) procedure.Moment {
	if i.Order.Route == exam.RouteIV {
		return procedure.AtVein
	}
	return procedure.AtInjection
}

// see asks what is seen once the needle is in.
func (w *work) see(i exam.Injection) error {
	question, list := "Draw the syringe back. What is seen?", needle.Aspirated()
	if i.Order.Route == exam.RouteIV {
		question, list = procedure.VeinQuestions()[w.vein].Asks, needle.InVein(w.vein)
	}
	n, err := w.letter(question, seenLetters(list))
	if err != nil {
		return err
	}
	if list[n].Then != "" {
		w.line("%s", list[n].Then)
	}
	if list[n].Phase == "" {
		w.vein++
		return nil
	}
	return w.inject(exam.InjectionLine{Number: i.Number, Phase: list[n].Phase})
}

func (w *work) ended(i exam.Injection) {
	w.line("Written down: %s. %s.", i.State, exam.CleanLine(needle.Injected(i), 0))
	w.tell(procedure.AtNeedleOut)
	if text := i.Whose(); text != "" {
		w.line("It was %s.", exam.CleanLine(text, 0))
	}
	differs := w.stand.Visit.Difference(i)
	if i.Sign != "" || i.NotKnown || differs != "" {
		w.line("TELL THE VET: %s", exam.CleanLine(strings.TrimSpace(i.SignWords+" "+i.Why)+" "+differs, 0))
	}
	if len(w.stand.Visit.Unwatched()) > 0 {
		w.line("Still to do: the watch. Begin or decline it: loosebox watch %s.", w.stand.Visit.ID)
	}
	for _, x := range w.stand.Visit.Watching() {
		w.line("The watch after injection %d runs until %s: loosebox watch %s.", x.Injection, x.Ends().Format("15:04"), w.stand.Visit.ID)
	}
}
