package ranges

import "slices"

// Class is the kind, size and age of animal that a range belongs to.
type Class string

// The classes, in the order of the tables.
const (
	AdultLight         Class = "adult light horse"
	MareInFoal         Class = "mare, last 3 months in foal"
	Draft              Class = "draft horse"
	Pony               Class = "pony"
	Miniature          Class = "miniature horse"
	SmallMareInFoal    Class = "pony or miniature mare, last 3 months in foal"
	DonkeyAdult        Class = "donkey, adult"
	DonkeyYoung        Class = "donkey, under 2 years"
	DonkeyFirstDay     Class = "donkey, first day"
	DonkeyNewborn      Class = "donkey, newborn"
	DonkeyFirstMonth   Class = "donkey foal, 1 to 4 weeks"
	DonkeyToSixMonths  Class = "donkey foal, 1 to 6 months"
	DonkeyFoalUnknown  Class = "donkey foal, age not known"
	Mule               Class = "mule"
	MuleFoalFirstDay   Class = "mule foal, first day"
	MuleFoalFirstWeek  Class = "mule foal, 1 to 7 days"
	MuleFoalFirstMonth Class = "mule foal, 1 to 4 weeks"
	MuleFoalSixMonths  Class = "mule foal, 1 to 6 months"
	MuleWeanling       Class = "mule, 6 to 12 months"
	MuleFoalUnknown    Class = "mule foal, age not known"
	FoalFirstHour      Class = "foal, first hour"
	FoalFirstHours     Class = "foal, 1 to 6 hours"
	FoalFirstDay       Class = "foal, 1 to 24 hours"
	FoalFirstWeek      Class = "foal, 1 to 7 days"
	FoalFirstMonth     Class = "foal, 1 to 4 weeks"
	FoalToSixMonths    Class = "foal, 1 to 6 months"
	Weanling           Class = "weanling, 6 to 12 months"
	FoalAgeUnknown     Class = "foal, age not known"
	Yearling           Class = "yearling"
	TwoThree           Class = "two to three years"
)

// Classes lists every class in table order.
func Classes() []Class {
	return []Class{
		AdultLight, MareInFoal, Draft, Pony, Miniature, SmallMareInFoal,
		DonkeyAdult, DonkeyYoung, DonkeyFirstDay, DonkeyNewborn, DonkeyFirstMonth, DonkeyToSixMonths, DonkeyFoalUnknown,
		Mule, MuleFoalFirstDay, MuleFoalFirstWeek, MuleFoalFirstMonth, MuleFoalSixMonths, MuleWeanling, MuleFoalUnknown,
		FoalFirstHour, FoalFirstHours, FoalFirstDay, FoalFirstWeek, FoalFirstMonth, FoalToSixMonths,
		Weanling, FoalAgeUnknown, Yearling, TwoThree,
	}
}

// Valid reports whether c is one of Classes.
func (c Class) Valid() bool { return slices.Contains(Classes(), c) }

// Measure is the identity of a step that has a range.
type Measure string

// The measures, in table order.
const (
	TempRectal Measure = "temp.rectal"
	HeartRate  Measure = "heart.rate"
	BreathRate Measure = "breath.rate"
	GumRefill  Measure = "gum.refill"
	SkinTent   Measure = "skin.tent"
)

// Measures lists every measure that has ranges, in table order.
func Measures() []Measure {
	return []Measure{TempRectal, HeartRate, BreathRate, GumRefill, SkinTent}
}

// Valid reports whether m is one of Measures.
func (m Measure) Valid() bool { return slices.Contains(Measures(), m) }

// Units lists the units that a row of the measure may have, in table order; nil for an unknown measure.
func (m Measure) Units() []Unit {
	switch m {
	case TempRectal:
		return []Unit{Celsius, Fahrenheit}
	case HeartRate, BreathRate:
		return []Unit{PerMinute}
	case GumRefill, SkinTent:
		return []Unit{Seconds}
	}
	return nil
}

// Unit is the unit of a row's limits.
type Unit string

// The units.
const (
	Celsius    Unit = "C"
	Fahrenheit Unit = "F"
	PerMinute  Unit = "/min"
	Seconds    Unit = "s"
)

// span gives the lowest and highest number accepted as a limit in the unit; a number outside is taken for a typing error,
// such as degrees F in a row of degrees C. The spans are our own and far wider than any range.
func (u Unit) span() (low, high float64) {
	switch u {
	case Celsius:
		return 25, 45
	case Fahrenheit:
		return 77, 113
	case PerMinute:
		return 1, 400
	case Seconds:
		return 0, 60
	}
	return 0, 0
}
