package exam

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam/notation"
)

// MostRounding is the change of a dose by the marks of a syringe that is taken,
// in percent of what was ordered: our own.
const MostRounding = 5.0

// WithinRounding says that a volume is what was worked out, but for the marks of
// the syringe in hand. A syringe is filled to its nearest mark, so the two differ
// by half a mark at most, and by MostRounding at most; without a syringe (markML
// 0) they are the same. Syringes are rounded by the same rule in package volume.
func WithinRounding(ml, exactML, markML float64) bool {
	most := exactML * 1e-6
	if markML > 0 {
		most = max(most, min(markML/2, exactML*MostRounding/100))
	}
	return math.Abs(ml-exactML) <= most*(1+1e-9)+1e-9
}

// DoseVolume is the volume that a dose comes to.
type DoseVolume struct {
	ML  float64 // exactly, before the marks of a syringe
	How string  // the sum for a person, "2.2 mg/kg x 500 kg / 50 mg/mL = 22 mL"
}

// SumOf works a dose out to a volume, from the strength of the label and the
// weight of the horse in kg, divided over so many sites (0 and 1: one). The whole
// dose of a label has no sum. The error is a *notation.Refusal that says what is missing.
func SumOf(d notation.Dose, strength string, kg float64, sites int) (DoseVolume, error) {
	if d.ByWeight() && !notation.Usable(kg) {
		return DoseVolume{}, &notation.Refusal{Why: "a dose in " + string(d.Unit) + " needs the body weight"}
	}
	total, parts := d.Value, []string{d.Text()}
	if d.ByWeight() {
		by, in := kg, "kg"
		if strings.HasSuffix(string(d.Unit), "/lb") {
			by, in = kg/notation.KgPerLb, "lb"
		}
		total *= by
		parts = append(parts, "x "+notation.Plain(by)+" "+in)
	}
	switch base, _, _ := strings.Cut(string(d.Unit), "/"); notation.DoseUnit(base) {
	case notation.DoseML:
	case notation.DoseIU:
		s, err := strengthFor(strength, d)
		if err != nil {
			return DoseVolume{}, err
		}
		total /= s.Value
		parts = append(parts, "/ "+s.Text())
	default:
		if !d.Unit.ByMass() {
			return DoseVolume{}, &notation.Refusal{Why: "the volume of a whole dose stands on the label"}
		}
		s, err := strengthFor(strength, d)
		if err != nil {
			return DoseVolume{}, err
		}
		total = d.Mg(kg) / s.MgPerML()
		parts = append(parts, "/ "+s.Text())
	}
	if sites > 1 {
		total /= float64(sites)
		parts = append(parts, fmt.Sprintf("/ %d sites", sites))
	}
	if total = notation.Tidy(total); !notation.Usable(total) {
		return DoseVolume{}, &notation.Refusal{Why: "no volume comes out of these figures; look at dose, weight and strength again"}
	}
	return DoseVolume{ML: total, How: strings.Join(parts, " ") + " = " + notation.Plain(total) + " mL"}, nil
}

// strengthFor is the strength of a label in the unit that a dose needs.
func strengthFor(text string, d notation.Dose) (notation.Strength, error) {
	need := "mg/mL or %"
	if !d.Unit.ByMass() {
		need = "IU/mL"
	}
	if notation.CleanLine(text, 0) == "" {
		return notation.Strength{}, &notation.Refusal{Why: "a dose in " + string(d.Unit) + " needs the strength of the label, in " + need}
	}
	s, err := notation.ParseStrength(text)
	if err != nil {
		return notation.Strength{}, err
	}
	if (s.MgPerML() > 0) != d.Unit.ByMass() {
		return notation.Strength{}, &notation.Refusal{Typed: s.Text(), Why: "a dose in " + string(d.Unit) + " needs a strength in " + need}
	}
	return s, nil
}

// Sum is what the order's own dose comes to, with its strength and weight, in so
// many sites. The error is a *notation.Refusal.
func (o Order) Sum(sites int) (DoseVolume, error) {
	d, err := notation.ReadDose(o.Dose)
	if err != nil {
		return DoseVolume{}, err
	}
	return SumOf(d, o.Strength, o.WeightKg, sites)
}
