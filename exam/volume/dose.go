package volume

import (
	"fmt"

	"loosebox/exam/notation"
)

// Doses and strengths belong to the language of the exam, because the gate compares
// orders by them. The calculators know them by these names.
type (
	// Dose is what was ordered, with its unit.
	Dose = notation.Dose
	// DoseUnit is the unit of a dose.
	DoseUnit = notation.DoseUnit
	// Strength is how much of the active ingredient is in a mL.
	Strength = notation.Strength
)

// The units of a dose that a strength turns into a volume.
const (
	Mg       = notation.DoseMg
	G        = notation.DoseG
	Mcg      = notation.DoseMcg
	MgPerKg  = notation.DoseMgPerKg
	McgPerKg = notation.DoseMcgPerKg
	GPerKg   = notation.DoseGPerKg
	MgPerLb  = notation.DoseMgPerLb
)

const (
	percent = notation.StrengthPercent
	// strongest is more than any solution holds, in mg/mL.
	strongest = notation.Strongest
)

// ParseDose reads a dose by mass, "2.2mg/kg" or "1100 mg". Errors are
// *notation.Refusal and name the units it could be.
func ParseDose(text string) (Dose, error) { return notation.ParseMass(text) }

// ParseStrength reads a strength, "50mg/mL" or "1%". Errors are *notation.Refusal
// and name the units it could be.
func ParseStrength(text string) (Strength, error) { return notation.ParseStrength(text) }

func known(u DoseUnit) bool { return u.ByMass() }

// ParseML reads a volume, "20mL" or "1.5 L", in millilitres. Errors are
// *notation.Refusal and name the units it could be.
func ParseML(text string) (float64, error) {
	value, rest, err := split(text)
	if err != nil {
		return 0, err
	}
	typed := notation.CleanLine(text, 40)
	switch rest {
	case "ml", "cc":
	case "l", "litre", "litres", "liter", "liters":
		value *= 1000
	case "":
		return 0, &notation.Refusal{Typed: typed, Why: fmt.Sprintf("the volume %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s mL or %s L", Plain(value), Plain(value))}
	default:
		return 0, &notation.Refusal{Typed: typed, Why: fmt.Sprintf("%q is no unit of a volume that is known here", rest), Meant: "one in mL or L"}
	}
	if value < 0 {
		return 0, &notation.Refusal{Typed: typed, Why: "a volume is not below zero"}
	}
	return value, nil
}

// ParseWeight reads a body weight, "500kg" or "1100lb". Errors are
// *notation.Refusal and name the units it could be.
func ParseWeight(text string) (notation.Quantity, error) {
	value, rest, err := split(text)
	if err != nil {
		return notation.Quantity{}, err
	}
	q := notation.Quantity{Value: value, Unit: notation.Kilograms}
	switch rest {
	case "kg", "kgs", "kilos", "kilograms":
	case "lb", "lbs", "pounds":
		q.Unit = notation.Pounds
	case "":
		return notation.Quantity{}, &notation.Refusal{Typed: notation.CleanLine(text, 40), Why: fmt.Sprintf("the weight %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s kg or %s lb", Plain(value), Plain(value))}
	default:
		return notation.Quantity{}, &notation.Refusal{Typed: notation.CleanLine(text, 40), Why: fmt.Sprintf("%q is no unit of a weight that is known here", rest), Meant: "one in kg or lb"}
	}
	kg, _ := q.In(notation.Kilograms)
	return q, possibleKg(kg.Value)
}
