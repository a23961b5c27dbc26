package authorization

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// CheckDecided is the last look at an entry before a store writes it: whatever a screen
// or a command forgot, no order and no needle gets into a visit without a
// decision that covers it. What was seen, given or stopped can always be written
// down. The error is a *Locked, for which errors.Is(err, ErrRefused) holds, or a
// *notation.Refusal where an order lacks what it is compared by.
//
// A store knows no ranges: that a new finding locks again is the part of CheckEntry.
func CheckDecided(v exam.Visit, e exam.Entry) error {
	if err := checkWithout(v, e); err != nil {
		return &exam.Locked{Why: err.Error()}
	}
	if err := checkAfterClosing(v, e); err != nil {
		return err
	}
	p, begun := begins(v, e)
	if !begun {
		return nil
	}
	if v.Elsewhere {
		return Elsewhere(v, e.At)
	}
	return CheckProcedure(v, nil, p)
}

// Elsewhere is the refusal of a needle in a visit in which another laptop puts them in.
func Elsewhere(v exam.Visit, now time.Time) error {
	return exam.Lock("Another laptop puts the needles in here: %s opened this visit there at %s. Ask there first, then take the visit over: loosebox take-over.",
		v.By, notation.Clock(v.OpenedAt, now))
}

// CheckEntry says whether an entry may be written now: it follows what the visit
// holds, and a decision covers it, with no tell-the-vet finding saved after that
// decision. Remarks are the judge's on the visit as it stands. Screens, prompts
// and commands ask it before they write. Errors are a *notation.Refusal (say it better) or
// a *Locked (ask the veterinarian).
func CheckEntry(v exam.Visit, remarks []exam.Remark, e exam.Entry) error {
	var err error
	switch {
	case e.Decision != nil:
		return e.Decision.Check()
	case e.Reading != nil:
		return v.CheckReading(e)
	case e.Corrects > 0:
		return nil // what is said, not what is done
	case e.Formality != nil:
		return v.CheckFormality(*e.Formality, e.By)
	case e.Kind == exam.EntryClosed:
		return checkEnd(v, remarks, e)
	case e.Injection != nil:
		err = CheckInjection(v, *e.Injection, e.At)
	case e.Draw != nil:
		err = CheckDraw(v, *e.Draw)
	case e.Watch != nil:
		return CheckWatch(v, *e.Watch)
	}
	if err == nil {
		err = checkWithout(v, e)
	}
	if err != nil {
		return err
	}
	if p, begun := begins(v, e); begun {
		return CheckProcedure(v, remarks, p)
	}
	return nil
}

// checkWithout checks an injection that is begun without an earlier decision.
func checkWithout(v exam.Visit, e exam.Entry) error {
	l := e.Injection
	if l == nil || e.Corrects > 0 || l.Order == nil || l.Order.Without == "" || l.Phase == exam.InjectionNoted {
		return nil
	}
	if _, begun := v.Injection(l.Number); begun {
		return nil // the order of an injection that is begun is not changed
	}
	return l.Order.CheckWithout(e.By)
}

// begins is the procedure that an entry begins or goes on with; false for an
// entry that only says what happened.
func begins(v exam.Visit, e exam.Entry) (exam.Procedure, bool) {
	if e.Corrects > 0 {
		return exam.Procedure{}, false
	}
	switch {
	case e.Injection != nil && e.Injection.Phase != exam.InjectionNoted:
		l := e.Injection
		i, begun := v.Injection(l.Number)
		o := i.Order
		if l.Order != nil && (!begun || l.Phase == exam.InjectionReady) {
			o = *l.Order
		}
		if o.Without != "" && l.Phase == exam.InjectionGiven {
			return exam.Procedure{}, false // by the veterinarian's hand or word: it only says what happened
		}
		p := exam.Procedure{Kind: exam.Injecting, At: e.At, Product: o.Product, Route: o.Route, Order: &o, Number: l.Number}
		return p, !begun || l.Phase == exam.InjectionReady || l.Phase == exam.InjectionNeedleIn
	case e.Draw != nil:
		_, begun := v.Draw(e.Draw.Number)
		return exam.Procedure{Kind: exam.Drawing, At: e.At}, !begun || e.Draw.Phase == exam.DrawReady || e.Draw.Phase == exam.DrawNeedleIn
	}
	return exam.Procedure{}, false
}

// checkEnd says whether an entry may close the visit: nothing keeps it open, and
// what is for the veterinarian was handed off, or the entry says why it was not.
func checkEnd(v exam.Visit, remarks []exam.Remark, e exam.Entry) error {
	if err := CheckClose(v, e.At); err != nil {
		return err
	}
	if what, untold := Untold(v, remarks); untold && notation.CleanLine(string(e.WithoutHandOff), 0) == "" {
		return &notation.Refusal{Why: "the visit stays open. This is for the veterinarian and is not handed off: " + notation.CleanNote(what) + ". Hand off, or give the reason for closing without"}
	}
	return nil
}

// CheckClose says whether a visit may be closed: no needle may be written down as
// in and not as out, and no watch may run. The error is a *notation.Refusal.
func CheckClose(v exam.Visit, now time.Time) error {
	why := ""
	if open := v.OpenInjections(); len(open) > 0 {
		why = "a needle was inserted for the injection of " + open[0].Order.Product + " and not recorded as removed; first record what happened"
	} else if open := v.OpenDraws(); len(open) > 0 {
		why = "a needle was inserted for blood and not recorded as removed; first record what happened"
	} else if open := v.Watching(); len(open) > 0 {
		why = "the horse is under observation until " + notation.Clock(open[0].Ends(), now) + "; first end it, or stop it with a reason"
	}
	if why == "" {
		return nil
	}
	return &notation.Refusal{Why: "the visit stays open: " + why}
}

// closes says why a closed visit takes no procedure on a decision at a moment: what
// was decided before closing is locked with it. What the veterinarian decides after
// it, on the same day, still goes into the visit, and needs no new exam.
func closes(v exam.Visit, d exam.Decided, at time.Time) error {
	switch {
	case !v.Closed():
		return nil
	case v.Struck != nil:
		return exam.Lock("The visit is voided, so nothing can be injected or drawn in it. Use the right visit.")
	case !v.ClosedOn(at):
		return exam.Lock("The visit was closed on %s, so nothing can be injected or drawn in it. Open a new visit.", notation.ShownOn(*v.ClosedAt, at))
	case len(v.Decisions) == 0:
		return exam.Lock("The visit is closed. A decision of the veterinarian can still be added today. On another day open a new visit.")
	case !d.AfterClosing:
		return exam.Lock("The visit is closed, and earlier decisions are locked. A new decision can still be added today. On another day open a new visit.")
	}
	return nil
}

// checkAfterClosing holds the mark of a decision to what the visit says: only a
// decision that comes after closing has it, and a correction only where what it
// corrects had it.
func checkAfterClosing(v exam.Visit, e exam.Entry) error {
	if e.Decision == nil || !e.Decision.AfterClosing {
		return nil
	}
	before := v.Closed()
	for _, d := range v.Decisions {
		if d.Seq == e.Corrects {
			before = before && d.AfterClosing
		}
	}
	if !before {
		return &exam.Locked{Why: "only a decision made after closing can be added so"}
	}
	return nil
}

// Untold is what a visit holds for the veterinarian that nobody told: a finding at
// the level tell the vet, or a sign of danger, with no hand-off and no decision
// after it. It is false where there is none. Remarks are the judge's on the visit
// as it stands.
func Untold(v exam.Visit, remarks []exam.Remark) (string, bool) {
	return News(v, remarks, v.Told()...)
}
