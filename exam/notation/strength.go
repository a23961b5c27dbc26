package notation

import (
	"fmt"
	"strings"
)

// Strength is what one millilitre of a solution holds, as it stands on the label.
type Strength struct {
	Value float64 // in Unit
	Unit  string  // mg/mL, mcg/mL, g/mL, % or IU/mL
}

// The units of a strength.
const (
	StrengthMg      = "mg/mL"
	StrengthMcg     = "mcg/mL"
	StrengthG       = "g/mL"
	StrengthPercent = "%"
	StrengthIU      = "IU/mL"
)

// MgPerML is the strength in milligrams a millilitre; 0 for one in units. A
// solution of 1 % holds 1 g in 100 mL, 10 mg/mL.
func (s Strength) MgPerML() float64 {
	switch s.Unit {
	case StrengthMg:
		return s.Value
	case StrengthMcg:
		return s.Value / 1000
	case StrengthG:
		return s.Value * 1000
	case StrengthPercent:
		return s.Value * 10
	}
	return 0
}

// Text is the strength with its unit, "50 mg/mL", "1 %".
func (s Strength) Text() string { return Plain(s.Value) + " " + s.Unit }

// Strongest is more than any solution holds, in mg/mL: our own bound, which
// catches slips.
const Strongest = 2000

// ParseStrength reads a strength, "50mg/mL", "1%" or "1000 IU/mL". Errors are
// *Refusal and name the units it could be.
func ParseStrength(text string) (Strength, error) {
	value, rest, err := SplitNumber(text)
	if err != nil {
		return Strength{}, err
	}
	typed := CleanLine(text, 40)
	s := Strength{Value: value}
	unit := strings.NewReplacer("µg", "mcg", "μg", "mcg", "ug", "mcg", "per", "/").Replace(rest)
	switch unit {
	case "mg/ml":
		s.Unit = StrengthMg
	case "mcg/ml":
		s.Unit = StrengthMcg
	case "g/ml":
		s.Unit = StrengthG
	case "%", "/cent", "%w/v":
		s.Unit = StrengthPercent
	case "":
		return Strength{}, &Refusal{Typed: typed, Why: fmt.Sprintf("the strength %s has no unit", Plain(value)), Meant: fmt.Sprintf("%s mg/mL or %s %%", Plain(value), Plain(value))}
	default:
		if head, ok := strings.CutSuffix(unit, "/ml"); !ok || activity(head) == "" {
			return Strength{}, &Refusal{Typed: typed, Why: fmt.Sprintf("%q is no unit of a strength that is known here", rest), Meant: "one in mg/mL, mcg/mL, g/mL, % or IU/mL"}
		}
		s.Unit = StrengthIU
	}
	switch {
	case !Usable(value):
		return Strength{}, &Refusal{Typed: typed, Why: "a strength is above zero"}
	case s.Unit == StrengthPercent && value > 100:
		return Strength{}, &Refusal{Typed: typed, Why: "no solution is stronger than 100 %", Meant: Plain(value) + " mg/mL"}
	case s.MgPerML() > Strongest:
		return Strength{}, &Refusal{Typed: typed, Why: fmt.Sprintf("no solution holds %s mg in a milliliter; look at the label again", Plain(s.MgPerML()))}
	}
	return s, nil
}
