package weight

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Animal is what the choice of an equation needs to know of an animal.
type Animal struct {
	Kind           exam.AnimalKind
	Class          ranges.Class // empty: found from kind and age
	AgeDays        float64      // 0: not known
	Sex            exam.Sex
	InFoal         bool
	PregnantMonths float64 // 0: not known
	Breed          string
}

const daysPerYear = 365.25

// AnimalOf is the animal that a horse is on a date.
func AnimalOf(h exam.Horse, at time.Time) Animal {
	a := Animal{Kind: h.Kind, Class: exam.ClassOf(h, at).Name, Sex: h.Sex, InFoal: h.InFoal, Breed: h.Breed}
	switch h.Birth.Precision {
	case exam.BornMinute, exam.BornDay, exam.BornMonth:
		a.AgeDays = max(0, at.Sub(h.Birth.At).Hours()/24)
	case exam.BornYear, exam.BornEstimated: // the class already counts from the middle of the year
	case exam.BornUnknown, exam.BornFoal, exam.BornAdult:
	}
	if a.Class == ranges.FoalAgeUnknown || a.Class == ranges.DonkeyFoalUnknown || a.Class == ranges.MuleFoalUnknown {
		a.AgeDays = 0
	}
	return a
}

// class is the animal's class, found from kind and age where it is not given.
func (a Animal) class() ranges.Class {
	if a.Class != "" {
		return a.Class
	}
	day := time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)
	h := exam.Horse{Kind: a.Kind}
	if a.AgeDays > 0 {
		age := time.Duration(min(a.AgeDays, 100*daysPerYear) * float64(24*time.Hour))
		h.Birth = exam.Birth{At: day.Add(-age), Precision: exam.BornMinute}
	}
	return exam.ClassOf(h, day).Name
}

// days bounds the age in days.
func (a Animal) days() (low, high float64) {
	if a.AgeDays > 0 {
		return a.AgeDays, a.AgeDays
	}
	switch a.class() {
	case ranges.FoalFirstHour, ranges.FoalFirstHours, ranges.FoalFirstDay, ranges.DonkeyFirstDay, ranges.MuleFoalFirstDay:
		return 0, 1
	case ranges.FoalFirstWeek, ranges.DonkeyNewborn, ranges.MuleFoalFirstWeek:
		return 1, 7
	case ranges.FoalFirstMonth, ranges.DonkeyFirstMonth, ranges.MuleFoalFirstMonth:
		return 7, 28
	case ranges.FoalToSixMonths, ranges.DonkeyToSixMonths, ranges.MuleFoalSixMonths:
		return 28, 183
	case ranges.FoalAgeUnknown, ranges.DonkeyFoalUnknown, ranges.MuleFoalUnknown:
		return 0, 183
	case ranges.Weanling, ranges.MuleWeanling:
		return 181, 365
	case ranges.Yearling:
		return 366, 730
	case ranges.TwoThree:
		return 731, 1461
	case ranges.DonkeyYoung:
		return 181, 730
	case ranges.AdultLight, ranges.MareInFoal, ranges.Draft, ranges.Pony, ranges.Miniature, ranges.SmallMareInFoal,
		ranges.DonkeyAdult, ranges.Mule:
	}
	return 4 * daysPerYear, 40 * daysPerYear
}

// lateInFoal says that the belly already misleads the tape: from the fifth
// month, or in foal since when is not known.
func (a Animal) lateInFoal() bool {
	return a.InFoal && (a.PregnantMonths == 0 || a.PregnantMonths >= 5)
}

// Words says what the animal is, for a sentence.
func (a Animal) Words() string {
	words := a.class().String()
	if young := strings.HasPrefix(words, "foal") || strings.HasPrefix(words, "weanling") ||
		strings.HasPrefix(words, "yearling") || strings.HasPrefix(words, "two"); young && a.Kind != exam.AnimalHorse {
		words = fmt.Sprintf("%s %s", a.Kind, words)
	}
	if a.InFoal && !strings.HasSuffix(words, "in foal") {
		words += " in foal"
	}
	return words
}

// audience says whom an equation was made for. Empty fields ask nothing.
type audience struct {
	kinds            []exam.AnimalKind
	fromDays, toDays float64 // toDays 0: no end
	breeds           []string
	notBreeds        []string
	sexes            []exam.Sex
	pregnant         pregnant
	minHeightCm      float64
}

type pregnant int

const (
	notLate pregnant = iota // not for mares from the fifth month
	never                   // for no mare in foal
	only                    // only for mares from the fifth month
)

// takes says whether the animal belongs to the audience, or why not.
func (e Equation) takes(a Animal) (bool, string) {
	low, high := a.days()
	breed := strings.ToLower(a.Breed)
	in := func(list []string) bool {
		return slices.ContainsFunc(list, func(part string) bool { return strings.Contains(breed, part) })
	}
	switch on := e.on; {
	case !slices.Contains(on.kinds, a.Kind):
		return false, fmt.Sprintf("made for %s, not for this animal (%s)", e.For, a.Words())
	case low < on.fromDays || on.toDays > 0 && high > on.toDays:
		return false, fmt.Sprintf("made for %s, not for this age (%s)", e.For, a.Words())
	case len(on.breeds) > 0 && !in(on.breeds):
		return false, fmt.Sprintf("made for %s, and the breed here is %s", e.For, orUnsaid(a.Breed))
	case in(on.notBreeds):
		return false, fmt.Sprintf("made for %s, not for this breed (%s)", e.For, orUnsaid(a.Breed))
	case len(on.sexes) > 0 && !slices.Contains(on.sexes, a.Sex.Grown()):
		return false, fmt.Sprintf("made for %s, and the sex here is %s", e.For, orUnsaid(a.Sex.String()))
	case on.pregnant == only && !a.lateInFoal():
		return false, fmt.Sprintf("made for %s only", e.For)
	case on.pregnant == never && a.InFoal:
		return false, "made on mares that were not in foal"
	case on.pregnant == notLate && a.lateInFoal():
		return false, "reads low in mares from the fifth month in foal"
	}
	return true, ""
}

func orUnsaid(text string) string {
	if text = notation.CleanLine(text, 40); text == "" {
		return "not said"
	}
	return text
}

// Measured are the tape measures that other steps of a visit hold.
func Measured(v exam.Visit) map[Measure]notation.Quantity {
	out := map[Measure]notation.Quantity{}
	for id, of := range map[exam.StepID]Measure{"height.withers": Height, "neck.girth": Neck} {
		if f, ok := v.First(id); ok && f.Value.Number != nil {
			out[of] = *f.Value.Number
		}
	}
	return out
}
