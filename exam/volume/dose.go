package volume

import (
	"fmt"

	"loosebox/exam"
)

// Doses and strengths belong to the language of the exam, because the gate compares
// orders by them. The calculators know them by these names.
type (
	// Dose is what was ordered, with its unit.
	Dose = exam.Dose
	// DoseUnit is the unit of a dose.
	DoseUnit = exam.DoseUnit
	// Strength is how much of the active ingredient is in a mL.
	Strength = exam.Strength
)

// The units of a dose that a strength turns into a volume.
const (
	Mg       = exam.DoseMg
	G        = exam.DoseG
	Mcg      = exam.DoseMcg
	MgPerKg  = exam.DoseMgPerKg
	McgPerKg = exam.DoseMcgPerKg
	GPerKg   = exam.DoseGPerKg
	MgPerLb  = exam.DoseMgPerLb
)

const (
	percent = exam.StrengthPercent
	// strongest is more than any solution holds, in mg/mL.
	strongest = exam.Strongest
)

// ParseDose reads a dose by mass, "2.2mg/kg" or "1100 mg". Errors are
// *exam.Refusal and name the units it could be.
func ParseDose(text string) (Dose, error) { return exam.ParseMass(text) }

// ParseStrength reads a strength, "50mg/mL" or "1%". Errors are *exam.Refusal
// and name the units it could be.
func ParseStrength(text string) (Strength, error) { return exam.ParseStrength(text) }

func known(u DoseUnit) bool { return u.ByMass() }

// ParseML reads a volume, "20mL" or "1.5 L", in millilitres. Errors are
// *exam.Refusal and name the units it could be.
func ParseML(text string) (float64, error) {
	value, rest, err := split(text)
	if err != nil {
		return 0, err
	}
	typed := exam.CleanLine(text, 40)
	switch rest {
	case "ml", "cc":
	case "l", "litre", "litres", "liter", "liters":
		value *= 1000
	case "":
		return 0, &exam.Refusal{Typed: typed, Why: fmt.Sprintf("the volume %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s mL or %s L", Plain(value), Plain(value))}
	default:
		return 0, &exam.Refusal{Typed: typed, Why: fmt.Sprintf("%q is no unit of a volume that is known here", rest), Meant: "one in mL or L"}
	}
	if value < 0 {
		return 0, &exam.Refusal{Typed: typed, Why: "a volume is not below zero"}
	}
	return value, nil
}

// ParseWeight reads a body weight, "500kg" or "1100lb". Errors are
// *exam.Refusal and name the units it could be.
func ParseWeight(text string) (exam.Quantity, error) {
	value, rest, err := split(text)
	if err != nil {
		return exam.Quantity{}, err
	}
	q := exam.Quantity{Value: value, Unit: exam.Kilograms}
	switch rest {
	case "kg", "kgs", "kilos", "kilograms":
	case "lb", "lbs", "pounds":
		q.Unit = exam.Pounds
	case "":
		return exam.Quantity{}, &exam.Refusal{Typed: exam.CleanLine(text, 40), Why: fmt.Sprintf("the weight %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s kg or %s lb", Plain(value), Plain(value))}
	default:
		return exam.Quantity{}, &exam.Refusal{Typed: exam.CleanLine(text, 40), Why: fmt.Sprintf("%q is no unit of a weight that is known here", rest), Meant: "one in kg or lb"}
	}
	kg, _ := q.In(exam.Kilograms)
	return q, possibleKg(kg.Value)
}
