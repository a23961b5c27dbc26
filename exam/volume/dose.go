package volume

import (
	"fmt"
	"strings"

	"loosebox/exam"
)

const kgPerLb = 0.45359237 // NIST SP 811, appendix B.8: exact

// DoseUnit is the unit in which the veterinarian said a dose.
type DoseUnit string

// The units of a dose. Units of activity (IU) have no weight and are not among them.
const (
	Mg       DoseUnit = "mg"
	G        DoseUnit = "g"
	Mcg      DoseUnit = "mcg"
	MgPerKg  DoseUnit = "mg/kg"
	McgPerKg DoseUnit = "mcg/kg"
	GPerKg   DoseUnit = "g/kg"
	MgPerLb  DoseUnit = "mg/lb"
)

// DoseUnits lists every unit of a dose.
func DoseUnits() []DoseUnit { return []DoseUnit{MgPerKg, Mg, McgPerKg, Mcg, GPerKg, G, MgPerLb} }

// Dose is a dose as it was ordered.
type Dose struct {
	Value float64
	Unit  DoseUnit
}

// ByWeight says whether the dose needs a body weight.
func (d Dose) ByWeight() bool { return strings.Contains(string(d.Unit), "/") }

// Mg is the dose in milligrams for a body weight in kg.
func (d Dose) Mg(kg float64) float64 {
	switch d.Unit {
	case Mg:
		return d.Value
	case G:
		return d.Value * 1000
	case Mcg:
		return d.Value / 1000
	case MgPerKg:
		return d.Value * kg
	case McgPerKg:
		return d.Value * kg / 1000
	case GPerKg:
		return d.Value * kg * 1000
	case MgPerLb:
		return d.Value * kg / kgPerLb
	}
	return 0
}

// Text is the dose with its unit, "2.2 mg/kg".
func (d Dose) Text() string { return Plain(d.Value) + " " + string(d.Unit) }

// ParseDose reads an ordered dose, "2.2mg/kg" or "1100 mg". Errors are
// *exam.Refusal and name the units it could be.
func ParseDose(text string) (Dose, error) {
	value, rest, err := split(text)
	if err != nil {
		return Dose{}, err
	}
	typed := exam.CleanLine(text, 40)
	unit := strings.NewReplacer("µg", "mcg", "μg", "mcg", "ug", "mcg", "per", "/", "milligrams", "mg", "micrograms", "mcg", "grams", "g").Replace(rest)
	d := Dose{Value: value, Unit: DoseUnit(unit)}
	switch {
	case strings.HasPrefix(unit, "iu") || strings.HasPrefix(unit, "u/") || unit == "u" || strings.HasPrefix(unit, "units"):
		return Dose{}, &exam.Refusal{Typed: typed, Why: "units of activity (IU) are not milligrams, and each product has its own factor; take the volume from the label or the veterinarian"}
	case unit == "":
		return Dose{}, &exam.Refusal{Typed: typed, Why: fmt.Sprintf("the dose %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s mg/kg or %s mg", Plain(value), Plain(value))}
	case unit == "ml" || unit == "ml/kg":
		return Dose{}, &exam.Refusal{Typed: typed, Why: "an ordered volume needs no working out; a dose is in mg/kg or mg"}
	case !known(d.Unit):
		return Dose{}, &exam.Refusal{Typed: typed, Why: fmt.Sprintf("%q is no unit of a dose that is known here", rest), Meant: "one in mg/kg, mg, mcg/kg, mcg, g or mg/lb"}
	case !usable(value):
		return Dose{}, &exam.Refusal{Typed: typed, Why: "a dose is above zero"}
	}
	return d, nil
}

func known(u DoseUnit) bool {
	for _, own := range DoseUnits() {
		if own == u {
			return true
		}
	}
	return false
}

// Strength is what one millilitre of a solution holds, as it stands on the label.
type Strength struct {
	Value float64
	Unit  string // mg/mL, mcg/mL, g/mL or %
}

// The units of a strength.
const (
	mgPerML  = "mg/mL"
	mcgPerML = "mcg/mL"
	gPerML   = "g/mL"
	percent  = "%"
)

// MgPerML is the strength in milligrams a millilitre. A solution of 1 % holds
// 1 g in 100 mL, 10 mg/mL.
func (s Strength) MgPerML() float64 {
	switch s.Unit {
	case mgPerML:
		return s.Value
	case mcgPerML:
		return s.Value / 1000
	case gPerML:
		return s.Value * 1000
	case percent:
		return s.Value * 10
	}
	return 0
}

// Text is the strength with its unit, "50 mg/mL", "1 %".
func (s Strength) Text() string { return Plain(s.Value) + " " + s.Unit }

// strongest is more than any solution holds, in mg/mL: our own bound, which
// catches slips.
const strongest = 2000

// ParseStrength reads a strength, "50mg/mL" or "1%". Errors are *exam.Refusal
// and name the units it could be.
func ParseStrength(text string) (Strength, error) {
	value, rest, err := split(text)
	if err != nil {
		return Strength{}, err
	}
	typed := exam.CleanLine(text, 40)
	s := Strength{Value: value}
	switch strings.NewReplacer("µg", "mcg", "μg", "mcg", "ug", "mcg", "per", "/").Replace(rest) {
	case "mg/ml":
		s.Unit = mgPerML
	case "mcg/ml":
		s.Unit = mcgPerML
	case "g/ml":
		s.Unit = gPerML
	case "%", "/cent", "%w/v":
		s.Unit = percent
	case "":
		return Strength{}, &exam.Refusal{Typed: typed, Why: fmt.Sprintf("the strength %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s mg/mL or %s %%", Plain(value), Plain(value))}
	default:
		return Strength{}, &exam.Refusal{Typed: typed, Why: fmt.Sprintf("%q is no unit of a strength that is known here", rest), Meant: "one in mg/mL, mcg/mL, g/mL or %"}
	}
	switch {
	case !usable(value):
		return Strength{}, &exam.Refusal{Typed: typed, Why: "a strength is above zero"}
	case s.Unit == percent && value > 100:
		return Strength{}, &exam.Refusal{Typed: typed, Why: "no solution is stronger than 100 %", Meant: Plain(value) + " mg/mL"}
	case s.MgPerML() > strongest:
		return Strength{}, &exam.Refusal{Typed: typed, Why: fmt.Sprintf("no solution holds %s mg in a millilitre; look at the label again", Plain(s.MgPerML()))}
	}
	return s, nil
}

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
