package exam

import (
	"time"

	"loosebox/exam/notation"
)

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

// OrderedAfterClosing says that an entry belongs to a procedure that was decided
// after the visit was closed. One that begins a procedure is taken for that; whether
// it may begin is checked by authorization.CheckProcedure.
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
