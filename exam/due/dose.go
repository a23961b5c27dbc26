package due

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// GivenDose is one dose against a disease, given here or noted from earlier.
type GivenDose struct {
	// On is the day, or the first day of the month or year where no more is
	// known; Latest is then the last one.
	On, Latest time.Time
	Product    string
	Lot        string
	Route      exam.Route
	Noted      bool   // from papers, or from what somebody said
	Basis      string // of a noted dose
	SeriesDone bool   // the papers show the whole first series
	NextDue    string // as the veterinarian or the label said
	Visit      exam.VisitID
}

// Exact says that the day is known.
func (d GivenDose) Exact() bool { return d.On.Equal(d.Latest) }

// Day is the day for a person: "4 Mar 2026", "some day of Mar 2026".
func (d GivenDose) Day() string {
	switch {
	case d.Exact():
		return d.On.Format(notation.DayShown)
	case d.On.Month() == d.Latest.Month():
		return "some day of " + d.On.Format("Jan 2006")
	}
	return "some day of " + d.On.Format("2006")
}

// Doses gathers the doses against a disease out of a horse's visits, the oldest
// first. What was stopped, or is still open, is no dose. Two entries of one day
// are one dose: papers often repeat what the record has.
func Doses(visits []exam.Visit, disease string) []GivenDose {
	var out []GivenDose
	for i := range visits {
		for k := range visits[i].Injections {
			if d, ok := doseOf(visits[i].ID, &visits[i].Injections[k], disease); ok {
				out = append(out, d)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b GivenDose) int {
		// Of one day the dose given here comes first and stays.
		return cmp.Or(a.On.Compare(b.On), a.Latest.Compare(b.Latest), compareBool(a.Noted, b.Noted))
	})
	out = slices.CompactFunc(out, func(a, b GivenDose) bool { return a.Exact() && b.Exact() && a.On.Equal(b.On) })
	return slices.DeleteFunc(out, func(d GivenDose) bool { return !d.Exact() && !d.SeriesDone && repeats(out, d) })
}

// repeats says that a dose known to the month or year may be one whose day is
// known: counted once, which makes nothing look more vaccinated than it is.
func repeats(all []GivenDose, d GivenDose) bool {
	return slices.ContainsFunc(all, func(o GivenDose) bool {
		return o.Exact() && !o.Noted && !o.On.Before(d.On) && !o.On.After(d.Latest)
	})
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

func doseOf(visit exam.VisitID, i *exam.Injection, disease string) (GivenDose, bool) {
	if !i.Counts() || !slices.ContainsFunc(i.Against(), func(a string) bool { return strings.EqualFold(a, disease) }) {
		return GivenDose{}, false
	}
	d := GivenDose{
		Product: i.Order.Product, Lot: i.Order.Lot, Route: i.Route(), SeriesDone: i.SeriesDone, NextDue: i.Order.NextDue,
		Visit: visit, Noted: i.State == exam.InjectionNoted, Basis: i.Basis,
	}
	if !d.Noted {
		if i.EndAt == nil {
			return d, false
		}
		d.On = day(*i.EndAt)
		d.Latest = d.On
		return d, true
	}
	var ok bool
	d.On, d.Latest, ok = period(i.On)
	return d, ok
}

// period is the first and last day of 2026-03-04, 2026-03 or 2026.
func period(text string) (first, last time.Time, ok bool) {
	if t, err := time.Parse(notation.DayForm, text); err == nil {
		return t, t, true
	}
	if t, err := time.Parse("2006-01", text); err == nil {
		return t, t.AddDate(0, 1, -1), true
	}
	if t, err := time.Parse("2006", text); err == nil {
		return t, t.AddDate(1, 0, -1), true
	}
	return time.Time{}, time.Time{}, false
}

// birth is when a horse was born at the earliest and at the latest; false where
// nothing is known, or where it would lie after today.
func birth(b exam.Birth, now time.Time) (first, last time.Time, ok bool) {
	if b.At.IsZero() || b.At.After(now) {
		return first, last, false
	}
	first = day(b.At)
	switch b.Precision {
	case exam.BornMinute, exam.BornDay:
		return first, first, true
	case exam.BornMonth:
		last = first.AddDate(0, 1, -1)
	case exam.BornYear, exam.BornEstimated:
		last = first.AddDate(1, 0, -1)
	case exam.BornUnknown, exam.BornFoal, exam.BornAdult:
		return first, last, false
	default:
		return first, last, false
	}
	if today := day(now); last.After(today) {
		last = today
	}
	return first, last, true
}
