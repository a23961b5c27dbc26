package plain

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
)

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
			words[i] = c.String()
		}
		if at, err = w.choose("What is given? Decided by the veterinarian:", words); err != nil {
			return err
		}
	}
	w.line("Decided: %s, %s.", exam.CleanLine(open[at].String(), 0), exam.CleanLine(open[at].Dose, 0))
	w.tell(procedure.AtInjection)
	sheet := needle.NewSheet(w.Deps, w.stand, open[at])
	sheet.Put(needle.GivenBy, w.by)
	if err := w.sheet(sheet, sheet.Fields()); err != nil {
		return err
	}
	o, err := sheet.Order()
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
	decided, err := w.stand.Covering(o, w.Deps.Now())
	if err != nil {
		return err
	}
	given, err := w.checks(needle.Points(w.stand, o, decided, w.Deps.Now()))
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
	if _, err := w.stand.Covering(i.Order, w.Deps.Now()); err != nil {
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
	words := make([]string, len(list))
	for n, x := range list {
		words[n] = x.Words
	}
	n, err := w.choose(question, words)
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

// give asks how much went in; the gate is asked before.
func (w *work) give(i exam.Injection, a exam.Attempt) error {
	if _, err := w.stand.Covering(i.Order, w.Deps.Now()); err != nil {
		if a.Place.Site != "" {
			w.line("The needle comes out and nothing is given.")
			if stopErr := w.inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: "locked before it was given: " + err.Error()}); stopErr != nil {
				return stopErr
			}
		}
		return err
	}
	if i.Order.Route == exam.RouteIV && w.vein <= needle.AfterDrip {
		q := procedure.VeinQuestions()[needle.AfterDrip]
		n, err := w.choose(q.Asks, []string{q.Good, "no"})
		if err != nil {
			return err
		}
		if n == 1 {
			return w.beside(i, q.Otherwise)
		}
		w.vein = needle.AfterDrip + 1
	}
	text, err := w.ask("Give %s mL of %s, %s, %s. Type given when it is in, given and the mL where it was another amount, or stop and why.",
		volume.Plain(i.Order.VolumeML), exam.CleanLine(i.Order.Product, 60), i.Order.Route, i.Order.Dose)
	if err != nil {
		return err
	}
	word, rest, _ := strings.Cut(text, " ")
	switch strings.ToLower(word) {
	case "given":
		return w.given(i, rest)
	case "stop":
		return w.stop(i, rest)
	}
	w.line("Nothing is written down: type given, or stop and why.")
	return nil
}

func (w *work) given(i exam.Injection, text string) error {
	ml := i.Order.VolumeML
	if strings.TrimSpace(text) != "" {
		var err error
		if ml, err = needle.ML(text); err != nil {
			w.line("Not taken: %s.", strings.TrimSuffix(err.Error(), "."))
			return nil
		}
	}
	l := exam.InjectionLine{Number: i.Number, Phase: exam.InjectionGiven, VolumeML: ml}
	if i.Order.Route.Needled() {
		text, err := w.ask("Where did the needle go? Enter alone: sharps box. Not capped again.")
		if err != nil {
			return err
		}
		if l.Disposal = text; text == "" {
			l.Disposal = "sharps box"
		}
	}
	return w.write(needle.Given(w.Deps, exam.Entry{}, l)...)
}

func (w *work) stop(i exam.Injection, why string) error {
	if strings.TrimSpace(why) == "" {
		w.line("Say why behind stop.")
		return nil
	}
	ml, known, err := w.amount("How many mL went in? 0 for nothing, or: "+needle.NotKnown+".", "")
	if err != nil {
		return err
	}
	return w.inject(exam.InjectionLine{Number: i.Number, Phase: exam.InjectionStopped, Why: why, VolumeML: ml, NotKnown: !known})
}

// beside stops because no blood comes back.
func (w *work) beside(i exam.Injection, then string) error {
	w.line("%s", then)
	ml, known, err := w.amount("How many mL went in? 0 for nothing, or: "+needle.NotKnown+".", "")
	if err != nil {
		return err
	}
	d, _ := procedure.FindDanger(procedure.Beside)
	return w.inject(procedure.Stopped(i.Number, d, "no blood comes back", ml, known))
}

// resume asks what happened to a needle that went in before this session.
func (w *work) resume(i exam.Injection, a exam.Attempt) error {
	n, err := w.choose(fmt.Sprintf("The needle of %s went in at %s, %s. What happened?", exam.CleanLine(i.Order.Product, 40), a.At.Format("2006-01-02 15:04"), a.Place), []string{
		"it was given", "it was given, how much is not known", "the needle came out, nothing was given", "nothing was given, and it is stopped",
		"nobody knows whether anything went in", "the needle is in now, nothing was given yet",
	})
	if err != nil {
		return err
	}
	l := exam.InjectionLine{Number: i.Number, Afterwards: true}
	switch n {
	case 0:
		ml, known, err := w.amount("How many mL went in? Or: "+needle.NotKnown+".", "")
		if err != nil {
			return err
		}
		l.Phase, l.VolumeML, l.NotKnown = exam.InjectionGiven, ml, !known
		return w.write(needle.Given(w.Deps, exam.Entry{}, l)...)
	case 1:
		l.Phase, l.NotKnown = exam.InjectionGiven, true
		return w.write(needle.Given(w.Deps, exam.Entry{}, l)...)
	case 2:
		l.Phase = exam.InjectionNotFound
	case 3:
		l.Phase, l.Why = exam.InjectionStopped, "interrupted: needle out, nothing given"
	case 4:
		l.Phase, l.Why, l.NotKnown = exam.InjectionStopped, "interrupted: nobody can say whether anything went in", true
	default:
		w.lately, w.vein, w.by = a.Seq, 0, i.By
		if a.Seen != "" {
			w.vein = needle.AfterDrip
		}
		return nil
	}
	return w.inject(l)
}

func (w *work) ended(i exam.Injection) {
	w.line("Written down: %s. %s.", i.State, exam.CleanLine(needle.Injected(i), 0))
	w.tell(procedure.AtNeedleOut)
	if i.Sign != "" || i.NotKnown {
		w.line("TELL THE VET: %s", exam.CleanLine(i.SignWords+" "+i.Why, 0))
	}
	for _, x := range w.stand.Visit.Watching() {
		w.line("The watch after injection %d runs until %s: loosebox watch %s.", x.Injection, x.Ends().Format("15:04"), w.stand.Visit.ID)
	}
}
