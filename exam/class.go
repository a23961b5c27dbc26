package exam

import (
	"slices"
	"time"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Class is the group of animals whose ranges apply to a horse on a day.
type Class struct {
	Name ranges.Class // key into the range tables
	// Young is true under six months: foal steps are asked.
	Young bool
	// Why says how the class was found, for a person: "9 years, born 2017 (papers)".
	Why string
}

// Newborn says that the class is that of a horse foal on its first day.
func (c Class) Newborn() bool {
	return c.Name == ranges.FoalFirstHour || c.Name == ranges.FoalFirstHours || c.Name == ranges.FoalFirstDay
}

// FirstWeek says that the class is that of a horse foal in its first week, the
// first day included.
func (c Class) FirstWeek() bool { return c.Newborn() || c.Name == ranges.FoalFirstWeek }

// GrownHorse says that the class is that of a horse, pony, draft or miniature from
// two years: what was made on grown horses is not lent to foals, donkeys or mules.
func (c Class) GrownHorse() bool {
	return slices.Contains([]ranges.Class{
		ranges.AdultLight, ranges.MareInFoal, ranges.Draft, ranges.Pony, ranges.Miniature, ranges.SmallMareInFoal, ranges.TwoThree,
	}, c.Name)
}

// Foal says that the class is that of a horse foal under six months.
func (c Class) Foal() bool {
	return c.FirstWeek() || slices.Contains([]ranges.Class{ranges.FoalFirstMonth, ranges.FoalToSixMonths, ranges.FoalAgeUnknown}, c.Name)
}

// band is an age band that ends so many months, days and hours after birth.
type band struct {
	months, days int
	hours        time.Duration
	class        ranges.Class
}

// horseBands split horses, ponies, miniatures and drafts up to four years;
// donkeys and mules have their own. Weanling, yearling and adult follow the
// age classes of the trade (yearling 1 to under 2 years, adult from 4).
func horseBands() []band {
	return []band{
		{hours: time.Hour, class: ranges.FoalFirstHour},
		{hours: 6 * time.Hour, class: ranges.FoalFirstHours},
		{days: 1, class: ranges.FoalFirstDay},
		{days: 7, class: ranges.FoalFirstWeek},
		{days: 28, class: ranges.FoalFirstMonth},
		{months: 6, class: ranges.FoalToSixMonths},
		{months: 12, class: ranges.Weanling},
		{months: 24, class: ranges.Yearling},
		{months: 48, class: ranges.TwoThree},
	}
}

func bandsOf(a AnimalKind) []band {
	switch a {
	case AnimalDonkey:
		return []band{
			{days: 1, class: ranges.DonkeyFirstDay},
			{days: 7, class: ranges.DonkeyNewborn},
			{days: 28, class: ranges.DonkeyFirstMonth},
			{months: 6, class: ranges.DonkeyToSixMonths},
			{months: 24, class: ranges.DonkeyYoung},
		}
	case AnimalMule:
		return []band{
			{days: 1, class: ranges.MuleFoalFirstDay},
			{days: 7, class: ranges.MuleFoalFirstWeek},
			{days: 28, class: ranges.MuleFoalFirstMonth},
			{months: 6, class: ranges.MuleFoalSixMonths},
			{months: 12, class: ranges.MuleWeanling},
		}
	case AnimalHorse, AnimalPony, AnimalMiniature, AnimalDraft:
	}
	return horseBands()
}

// ClassOf computes the class of a horse on a date. A birth known to the month
// or year counts from the middle of it; a young animal whose band is then a
// guess falls into the class "foal, age not known". Without a birth date a
// horse is taken as adult.
func ClassOf(h Horse, at time.Time) Class {
	why := h.AgeWords(at)
	if h.Birth.Precision == BornFoal {
		return Class{Name: ageless(h.Kind), Young: true, Why: why}
	}
	born, known := h.Birth.middle(at)
	if !known {
		return Class{Name: h.grown(at), Why: why}
	}
	young := at.Before(born.AddDate(0, 6, 0))
	for _, b := range bandsOf(h.Kind) {
		if !at.Before(born.AddDate(0, b.months, b.days).Add(b.hours)) {
			continue
		}
		name := b.class
		switch {
		case young && h.Birth.coarse():
			name = ageless(h.Kind)
		case (name == ranges.FoalFirstHour || name == ranges.FoalFirstHours) && h.Birth.Precision != BornMinute:
			name = ranges.FoalFirstDay
		case name == ranges.TwoThree && h.lateInFoal(at):
			name = ranges.MareInFoal
			if h.Kind == AnimalPony || h.Kind == AnimalMiniature {
				name = ranges.SmallMareInFoal
			}
		}
		return Class{Name: name, Young: young, Why: why}
	}
	return Class{Name: h.grown(at), Young: young, Why: why}
}

// ageless is the class of an animal under six months of which no more is known.
func ageless(a AnimalKind) ranges.Class {
	switch a {
	case AnimalDonkey:
		return ranges.DonkeyFoalUnknown
	case AnimalMule:
		return ranges.MuleFoalUnknown
	case AnimalHorse, AnimalPony, AnimalMiniature, AnimalDraft:
	}
	return ranges.FoalAgeUnknown
}

// A mare's heart is faster in the last three months before she foals and slows at once after it (Nagel et al 2011, 2016).
// A foal that is a month late was most likely born, and nobody changed the date.
const (
	lateMonths   = 3
	overdueWeeks = 4
)

// lateInFoal says that a mare is in the last three months before the day on which her foal is expected.
func (h Horse) lateInFoal(at time.Time) bool {
	due, err := time.ParseInLocation(notation.DayForm, h.FoalDue, at.Location())
	if !h.InFoal || err != nil {
		return false
	}
	return !at.Before(due.AddDate(0, -lateMonths, 0)) && at.Before(due.AddDate(0, 0, 7*overdueWeeks))
}

// grown is the class of a grown animal on a day.
func (h Horse) grown(at time.Time) ranges.Class {
	if h.lateInFoal(at) {
		switch h.Kind {
		case AnimalHorse, AnimalDraft:
			return ranges.MareInFoal
		case AnimalPony, AnimalMiniature:
			return ranges.SmallMareInFoal
		case AnimalDonkey, AnimalMule:
		}
	}
	return adult(h.Kind)
}

func adult(a AnimalKind) ranges.Class {
	switch a {
	case AnimalPony:
		return ranges.Pony
	case AnimalMiniature:
		return ranges.Miniature
	case AnimalDraft:
		return ranges.Draft
	case AnimalDonkey:
		return ranges.DonkeyAdult
	case AnimalMule:
		return ranges.Mule
	case AnimalHorse:
	}
	return ranges.AdultLight
}
