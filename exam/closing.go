package exam

import (
	"time"

	"loosebox/exam/notation"
)

// closes says why a closed visit takes no procedure on a decision at a moment: what
// was decided before closing is locked with it. What the veterinarian decides after
// it, on the same day, still goes into the visit, and needs no new exam.
func (v Visit) closes(d Decided, at time.Time) error {
	switch {
	case !v.Closed():
		return nil
	case v.Struck != nil:
		return locked("The visit was struck, so nothing can be injected or drawn in it. Write in the right visit.")
	case !v.ClosedOn(at):
		return locked("The visit was closed on %s, so nothing can be injected or drawn in it. Open a new visit; what was written stays.", v.ClosedAt.Format(notation.DayForm))
	case !d.AfterClosing:
		return locked("The visit is closed, and what was decided before is locked with it. What the veterinarian decides from now on can still be " +
			"written into it today: write down the new decision. On another day open a new visit; what was written stays.")
	}
	return nil
}

// ClosedOn says that the visit was closed on the day of a moment, as its clock had it.
func (v Visit) ClosedOn(at time.Time) bool {
	return v.Closed() && at.In(v.ClosedAt.Location()).Format(notation.DayForm) == v.ClosedAt.Format(notation.DayForm)
}

// Holds is the last moment at which a decision holds in the visit: one that was made
// after closing holds for that day at most.
func (v Visit) Holds(d Decided) time.Time {
	ends := d.Ends()
	if !d.AfterClosing || !v.Closed() {
		return ends
	}
	c := *v.ClosedAt
	if night := time.Date(c.Year(), c.Month(), c.Day(), 23, 59, 59, 0, c.Location()); night.Before(ends) {
		return night
	}
	return ends
}

// checkAfterClosing holds the mark of a decision to what the visit says: only a
// decision that comes after closing has it, and a correction only where what it
// corrects had it.
func (v Visit) checkAfterClosing(e Entry) error {
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
		return &Locked{Why: "only what is decided after the visit was closed may be written down as that"}
	}
	return nil
}

// OrderedAfterClosing says that an entry belongs to a procedure that was decided
// after the visit was closed. One that begins a procedure is taken for that; whether
// it may is asked of Allowed.
func (v Visit) OrderedAfterClosing(e Entry) bool {
	decision := 0
	switch {
	case e.Injection != nil && e.Injection.Phase == InjectionReady, e.Draw != nil && e.Draw.Phase == DrawReady:
		return true
	case e.Injection != nil:
		i, _ := v.Injection(e.Injection.Number)
		decision = i.Order.Decision
	case e.Draw != nil:
		d, _ := v.Draw(e.Draw.Number)
		decision = d.Order.Decision
	case e.Watch != nil:
		i, _ := v.Injection(e.Watch.Injection)
		decision = i.Order.Decision
	}
	for _, d := range v.Decisions {
		if decision > 0 && d.Seq == decision {
			return d.AfterClosing
		}
	}
	return false
}
