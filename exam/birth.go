package exam

import (
	"time"

	"loosebox/exam/notation"
)

func (b Birth) coarse() bool {
	return b.Precision == BornYear || b.Precision == BornEstimated || b.Precision == BornMonth
}

// middle is the likeliest moment of birth as seen from a date; false where the
// birth is not known or lies after the date.
func (b Birth) middle(at time.Time) (time.Time, bool) {
	if b.At.IsZero() {
		return time.Time{}, false
	}
	born := b.At
	switch b.Precision {
	case BornMinute:
	case BornDay:
	case BornMonth:
		born = born.AddDate(0, 0, 15)
	case BornYear, BornEstimated:
		born = born.AddDate(0, 6, 0)
	case BornUnknown, BornFoal, BornAdult, "":
		return time.Time{}, false
	}
	if b.At.After(at) {
		return time.Time{}, false
	}
	if born.After(at) { // born this year or month: half way to today
		born = b.At.Add(at.Sub(b.At) / 2)
	}
	return born, true
}

// AgeWords says the age for a person: "2 days", "5 months", "9 years",
// "about 12 years", or why it is not known.
func (h Horse) AgeWords(at time.Time) string {
	born, known := h.Birth.middle(at)
	if !known {
		switch h.Birth.Precision {
		case BornFoal, BornAdult:
			return h.Birth.Precision.String() + ", no birth date"
		case BornUnknown, BornMinute, BornDay, BornMonth, BornYear, BornEstimated:
		}
		return "age not known"
	}
	words := ageWords(born, at)
	if h.Birth.coarse() {
		return "about " + words
	}
	return words
}

func ageWords(born, at time.Time) string {
	age := at.Sub(born)
	switch {
	case age < 48*time.Hour:
		return notation.Counted(int(age.Hours()), "hour")
	case at.Before(born.AddDate(0, 0, 56)):
		return notation.Counted(int(age.Hours()/24), "day")
	}
	// Counting on from two months short of the calendar's difference is exact and takes few steps.
	months := max(0, 12*(at.Year()-born.Year())+int(at.Month()-born.Month())-2)
	for !at.Before(born.AddDate(0, months+1, 0)) && months < 600 {
		months++
	}
	if months < 24 {
		return notation.Counted(months, "month")
	}
	return notation.Counted(months/12, "year")
}

// Show writes the birth date as precisely as it is known, with its basis.
func (b Birth) Show() string {
	text := ""
	switch b.Precision {
	case BornMinute:
		text = b.At.Format(notation.DayShown + " 15:04")
	case BornDay:
		text = b.At.Format(notation.DayShown)
	case BornMonth:
		text = b.At.Format("Jan 2006")
	case BornYear:
		text = b.At.Format("2006")
	case BornEstimated:
		text = "about " + b.At.Format("2006")
	case BornUnknown, BornFoal, BornAdult:
		text = b.Precision.String()
	}
	if b.Basis != "" && text != "" {
		text += " (" + b.Basis + ")"
	}
	return text
}
