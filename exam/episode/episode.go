package episode

import (
	"cmp"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

// Apart is how long after one check the next still belongs to the same episode; our own.
const Apart = 12 * time.Hour

// Usual is the time to the next check that is offered where none was set before; common
// practice after a call for colic.
const Usual = 30 * time.Minute

// Episode is the checks of one horse, side by side.
type Episode struct {
	Table     compare.Table    // newest first
	Turns     []ChangedFinding // what changed from the check before to the newest
	Given     []Given          // oldest first
	Next      *exam.Recheck    // the check that is due next; nil where none is set
	NextVisit exam.VisitID     // the visit in which it was set
}

// Of lists the visits of the episode that holds a visit, newest first; the newest
// episode where id is empty. Past is the horse's visits, newest first. It is empty where
// nothing was looked at again within Apart, and no hour is set for it.
func Of(past []exam.Visit, id exam.VisitID) []exam.Visit {
	seen := exam.LookedAt(past)
	for from := 0; from < len(seen); {
		to := from + 1
		for to < len(seen) && seen[to-1].OpenedAt.Sub(seen[to].OpenedAt) <= Apart {
			to++
		}
		run := seen[from:to]
		if id == "" || slices.ContainsFunc(run, func(v exam.Visit) bool { return v.ID == id }) {
			if !slices.ContainsFunc(run, again) {
				return nil
			}
			return run
		}
		from = to
	}
	return nil
}

// again says that a visit is a check of an episode, or sets the hour of one.
func again(v exam.Visit) bool {
	return v.Routine == steps.FiveMinutes || slices.ContainsFunc(v.Rechecks, func(r exam.Recheck) bool { return r.Time != nil })
}

// Make sets the visits of Of side by side; earlier are the horse's visits before them,
// for what is normal variation. Numbers are in the units in which a person works, by the
// unit that each replaces.
func Make(units notation.Units, checks, earlier []exam.Visit, j *judge.Judge, s *exam.Steps, now time.Time) Episode {
	e := Episode{Table: compare.VisitsIn(units, checks, earlier, j, s), Given: given(checks)}
	for i := range e.Table.Rows {
		if t, turned := turn(&e.Table.Rows[i]); turned {
			e.Turns = append(e.Turns, t)
		}
	}
	slices.SortStableFunc(e.Turns, func(a, b ChangedFinding) int {
		return cmp.Or(cmp.Compare(b.Level, a.Level), cmp.Compare(a.Note, b.Note))
	})
	e.Next, e.NextVisit = Next(checks, now)
	return e
}

// Next is the check with an hour that no visit has met: that of the newest visit which
// set one, since it takes the place of those before. Visits are newest first.
func Next(visits []exam.Visit, now time.Time) (*exam.Recheck, exam.VisitID) {
	open := due.Rechecks(visits, now)
	for _, v := range visits {
		for _, r := range slices.Backward(v.Rechecks) {
			if r.Time == nil {
				continue
			}
			unmet := slices.ContainsFunc(open, func(o due.Recheck) bool { return o.Visit == v.ID && o.Seq == r.Seq })
			if !unmet {
				return nil, ""
			}
			return &r, v.ID
		}
	}
	return nil, ""
}

// Interval is the time to the next check that is offered: that of the newest check which
// set one. Visits are newest first.
func Interval(visits []exam.Visit) time.Duration {
	for _, v := range visits {
		for _, r := range slices.Backward(v.Rechecks) {
			if span := r.TimeTo(); v.Routine == steps.FiveMinutes && span > 0 && span <= Apart {
				return span
			}
		}
	}
	return Usual
}
