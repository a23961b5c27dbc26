package notation

import (
	"fmt"
	"slices"
	"strings"
)

// DoseUnit is the unit in which the veterinarian said a dose.
type DoseUnit string

// The units of a dose: by mass, which a strength turns into a volume; a volume
// itself; units of activity, which only a strength in such units turns into one;
// and the whole dose of a label, as of a vaccine.
const (
	DoseMg       DoseUnit = "mg"
	DoseG        DoseUnit = "g"
	DoseMcg      DoseUnit = "mcg"
	DoseMgPerKg  DoseUnit = "mg/kg"
	DoseMcgPerKg DoseUnit = "mcg/kg"
	DoseGPerKg   DoseUnit = "g/kg"
	DoseMgPerLb  DoseUnit = "mg/lb"
	DoseML       DoseUnit = "mL"
	DoseMLPerKg  DoseUnit = "mL/kg"
	DoseMLPerLb  DoseUnit = "mL/lb"
	DoseIU       DoseUnit = "IU"
	DoseIUPerKg  DoseUnit = "IU/kg"
	DoseIUPerLb  DoseUnit = "IU/lb"
	DoseWhole    DoseUnit = "dose"
)

// MassUnits lists the units of a dose by mass.
func MassUnits() []DoseUnit {
	return []DoseUnit{DoseMgPerKg, DoseMg, DoseMcgPerKg, DoseMcg, DoseGPerKg, DoseG, DoseMgPerLb}
}

// ByMass says that the unit is one of mass.
func (u DoseUnit) ByMass() bool { return slices.Contains(MassUnits(), u) }

// Dose is a dose as it was ordered: so many of Unit.
type Dose struct {
	Value float64
	Unit  DoseUnit
}

// ByWeight says whether the dose needs a body weight.
func (d Dose) ByWeight() bool { return strings.Contains(string(d.Unit), "/") }

// Whole says that it is the whole dose of a label, whose volume only the label says.
func (d Dose) Whole() bool { return d.Unit == DoseWhole }

// Activity says that it is a dose in units of activity.
func (d Dose) Activity() bool { return strings.HasPrefix(string(d.Unit), string(DoseIU)) }

// Mg is a dose by mass in milligrams for a body weight in kg; 0 for any other.
func (d Dose) Mg(kg float64) float64 {
	switch d.Unit {
	case DoseMg:
		return d.Value
	case DoseG:
		return d.Value * 1000
	case DoseMcg:
		return d.Value / 1000
	case DoseMgPerKg:
		return d.Value * kg
	case DoseMcgPerKg:
		return d.Value * kg / 1000
	case DoseGPerKg:
		return d.Value * kg * 1000
	case DoseMgPerLb:
		return d.Value * kg / KgPerLb
	case DoseML, DoseMLPerKg, DoseMLPerLb, DoseIU, DoseIUPerKg, DoseIUPerLb, DoseWhole:
	}
	return 0
}

// Text is the dose with its unit, "2.2 mg/kg".
func (d Dose) Text() string { return Plain(d.Value) + " " + string(d.Unit) }

// unitOf writes the unit of a dose or a strength in one way.
var unitOf = strings.NewReplacer("µg", "mcg", "μg", "mcg", "ug", "mcg", "per", "/", "milligrams", "mg", "micrograms", "mcg", "grams", "g")

// ParseMass reads a dose by mass, "2.2mg/kg" or "1100 mg". Errors are *Refusal
// and name the units it could be.
func ParseMass(text string) (Dose, error) {
	value, rest, err := SplitNumber(text)
	if err != nil {
		return Dose{}, err
	}
	typed := CleanLine(text, 40)
	unit := unitOf.Replace(rest)
	d := Dose{Value: value, Unit: DoseUnit(unit)}
	switch {
	case activity(unit) != "":
		return Dose{}, &Refusal{Typed: typed, Why: "IU are not milligrams, and each product has its own factor. Take the volume from the label or the veterinarian"}
	case unit == "":
		return Dose{}, &Refusal{Typed: typed, Why: fmt.Sprintf("the dose %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s mg/kg or %s mg", Plain(value), Plain(value))}
	case unit == "ml" || unit == "ml/kg":
		return Dose{}, &Refusal{Typed: typed, Why: "an ordered volume needs no working out; a dose is in mg/kg or mg"}
	case !d.Unit.ByMass():
		return Dose{}, &Refusal{Typed: typed, Why: fmt.Sprintf("%q is no unit of a dose that is known here", rest), Meant: "one in mg/kg, mg, mcg/kg, mcg, g or mg/lb"}
	case !Usable(value):
		return Dose{}, &Refusal{Typed: typed, Why: "a dose is above zero"}
	}
	return d, nil
}

// activity is the unit of a dose in units of activity, IU, IU/kg or IU/lb; empty
// for any other unit.
func activity(unit string) DoseUnit {
	head, per, by := strings.Cut(unit, "/")
	if !slices.Contains([]string{"iu", "i.u.", "u", "unit", "units"}, head) {
		return ""
	}
	switch {
	case !by:
		return DoseIU
	case per == "kg":
		return DoseIUPerKg
	case per == "lb":
		return DoseIUPerLb
	}
	return ""
}

// ReadDose reads a dose as the veterinarian says it: by mass (2.2 mg/kg, 1100 mg),
// a volume (2 mL, 0.1 mL/kg), units (5000 IU), or the whole dose of a label
// (1 dose). A percentage is a strength. Errors are *Refusal and name the units.
func ReadDose(text string) (Dose, error) {
	clean := strings.ToLower(CleanLine(text, 40))
	if n, rest, ok := strings.Cut(clean, " dose"); ok && (rest == "" || rest == "s") {
		switch n {
		case "1", "one":
			return Dose{1, DoseWhole}, nil
		case "2", "two", "half", "1/2", "0.5":
			return Dose{}, &Refusal{Typed: clean, Why: "a vaccine is one whole dose of its label; only the veterinarian gives anything else"}
		}
	}
	value, rest, err := SplitNumber(clean)
	if err != nil {
		return Dose{}, err
	}
	d := Dose{Value: value}
	switch unit := unitOf.Replace(rest); {
	case unit == "ml" || unit == "cc":
		d.Unit = DoseML
	case slices.Contains([]string{"l", "litre", "litres", "liter", "liters"}, unit):
		d.Value, d.Unit = value*1000, DoseML
	case unit == "ml/kg":
		d.Unit = DoseMLPerKg
	case unit == "ml/lb":
		d.Unit = DoseMLPerLb
	case activity(unit) != "":
		d.Unit = activity(unit)
	case strings.HasPrefix(unit, "%"):
		return Dose{}, &Refusal{Typed: clean, Why: "a percentage is the strength of a label, not a dose; ask how many mL, mg or mg/kg"}
	case unit == "":
		return Dose{}, &Refusal{Typed: clean, Why: fmt.Sprintf("the dose %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s mL, %s mg/kg or %s mg", Plain(value), Plain(value), Plain(value))}
	default:
		return ParseMass(clean)
	}
	if !Usable(d.Value) {
		return Dose{}, &Refusal{Typed: clean, Why: "a dose is above zero"}
	}
	return d, nil
}
