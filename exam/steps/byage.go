package steps

import (
	"time"

	"loosebox/exam"
)

// The routines that are offered first by age.
const (
	Newborn   = "newborn-foal"
	Youngster = "foal-and-youngster"
)

// ByAge is the routine to offer first to a young animal: the newborn's in its first week, the foal's up to six months;
// empty for a grown one. What a person asked for by name goes before it, a default that was set for grown horses does
// not.
func ByAge(h exam.Horse, at time.Time) string {
	class := exam.ClassOf(h, at)
	switch {
	case !class.Young:
		return ""
	case firstWeek(h.Birth, at):
		return Newborn
	}
	return Youngster
}

func firstWeek(b exam.Birth, at time.Time) bool {
	exact := b.Precision == exam.BornMinute || b.Precision == exam.BornDay
	return exact && !at.Before(b.At) && at.Before(b.At.AddDate(0, 0, 7))
}
