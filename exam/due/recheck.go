package due

import (
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Recheck is a recheck set in a visit.
type Recheck struct {
	exam.Recheck
	Status Status
	Visit  exam.VisitID
}

// Rechecks lists the rechecks that no later visit has met, the earliest first.
func Rechecks(visits []exam.Visit, now time.Time) []Recheck {
	var out []Recheck
	today := day(now)
	for i := range visits {
		for _, r := range visits[i].Rechecks {
			on, err := time.Parse(notation.DayForm, r.On)
			if err != nil || met(visits, r, on, now.Location()) {
				continue
			}
			status := Next
			if !on.After(today) {
				status = Due
			}
			if on.Before(today) || r.Time != nil && r.Time.Before(now) {
				status = Overdue
			}
			out = append(out, Recheck{r, status, visits[i].ID})
		}
	}
	slices.SortStableFunc(out, func(a, b Recheck) int { return a.Compare(b.RecheckLine) })
	return out
}

// early is how long before its hour a recheck is met: a quarter of the time until
// then, and an hour at most; our own.
func early(r exam.Recheck) time.Duration {
	return min(max(r.Time.Sub(r.At)/4, 0), time.Hour)
}

// met says that a later visit began on the day of a recheck or after it; where the
// recheck has an hour, that about that hour or after it a visit began, or something
// was looked at in one that was open already. Days are those of the zone of now.
func met(visits []exam.Visit, r exam.Recheck, on time.Time, here *time.Location) bool {
	return slices.ContainsFunc(visits, func(v exam.Visit) bool {
		switch {
		case v.OnlyPapers():
			return false
		case r.Time != nil:
			from := r.Time.Add(-early(r))
			return v.OpenedAt.After(r.At) && !v.OpenedAt.Before(from) || v.LookedAt().After(r.At) && !v.LookedAt().Before(from)
		}
		return v.OpenedAt.After(r.At) && !day(v.OpenedAt.In(here)).Before(on)
	})
}
