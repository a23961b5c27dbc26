package exam

import (
	"fmt"
	"time"

	"loosebox/exam/notation"
)

// Sex is the animal's sex.
type Sex string

// The sexes. A filly and a colt are a female and an entire male under four years (common practice of the trade; some
// breeds end it at three).
const (
	SexUnknown Sex = "not known"
	Mare       Sex = "mare"
	Stallion   Sex = "stallion"
	Gelding    Sex = "gelding"
	Filly      Sex = "filly"
	Colt       Sex = "colt"
)

// Sexes lists every sex.
func Sexes() []Sex { return []Sex{Mare, Gelding, Stallion, Filly, Colt, SexUnknown} }

// Female says that the animal is a mare or a filly.
func (s Sex) Female() bool { return s == Mare || s == Filly }

// Entire says that the animal is a stallion or a colt.
func (s Sex) Entire() bool { return s == Stallion || s == Colt }

// Grown is the word of the grown animal of the same sex: mare for a filly, stallion for a colt.
func (s Sex) Grown() Sex {
	switch s {
	case Filly:
		return Mare
	case Colt:
		return Stallion
	case Mare, Stallion, Gelding, SexUnknown:
	}
	return s
}

// The ages of CheckSex, in years: fillies come into season at 12 to 18 months, and from four years the trade says mare
// and stallion (both common practice). A filly or colt has a year more, for breeds that count otherwise.
const (
	leastInFoal  = 1
	mostFillyAge = 5
)

// CheckSex says what of age, sex and being in foal cannot go together, as a *notation.Refusal; whoever writes a horse down asks
// it. Where the age is not known nothing is refused.
func CheckSex(h Horse, at time.Time) error {
	if h.InFoal && h.Sex != "" && h.Sex != SexUnknown && !h.Sex.Female() {
		return &notation.Refusal{Typed: string(h.Sex), Why: fmt.Sprintf("a %s cannot be in foal", h.Sex)}
	}
	latest, known := h.Birth.latest()
	if h.InFoal && (h.Birth.Precision == BornFoal || known && at.Before(latest.AddDate(leastInFoal, 0, 0))) {
		return &notation.Refusal{Typed: "in foal", Why: fmt.Sprintf("an animal under %d year cannot be in foal: look at the birth date (%s)", leastInFoal, h.AgeWords(at))}
	}
	if (h.Sex == Filly || h.Sex == Colt) && (h.Birth.Precision == BornAdult || known && !at.Before(latest.AddDate(mostFillyAge, 0, 0))) {
		return &notation.Refusal{Typed: string(h.Sex), Why: fmt.Sprintf("a %s is under four years: write %s (%s)", h.Sex, h.Sex.Grown(), h.AgeWords(at)), Meant: h.Sex.Grown().String()}
	}
	return nil
}

// latest is the last day on which the animal may have been born; false where the birth is not known.
func (b Birth) latest() (time.Time, bool) {
	if b.At.IsZero() {
		return time.Time{}, false
	}
	switch b.Precision {
	case BornMonth:
		return b.At.AddDate(0, 1, 0), true
	case BornYear:
		return b.At.AddDate(1, 0, 0), true
	case BornEstimated:
		return b.At.AddDate(2, 0, 0), true
	case BornUnknown, BornFoal, BornAdult, BornMinute, BornDay:
	}
	return b.At, true
}
