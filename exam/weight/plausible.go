package weight

import (
	"fmt"
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Bounds of what is taken at all, in cm, from the smallest newborn to the
// largest draft horse. They are our own and wide: they catch slips, they judge
// no animal.
func possible(of Measure) exam.Span {
	switch of {
	case Girth, GirthAgain, Girth12, Girth18, NavelGirth:
		return exam.Span{Low: 40, High: 320}
	case Length:
		return exam.Span{Low: 25, High: 260}
	case Height:
		return exam.Span{Low: 40, High: 225}
	case Neck:
		return exam.Span{Low: 25, High: 180}
	case Carpus:
		return exam.Span{Low: 13, High: 60}
	case Foreleg:
		return exam.Span{Low: 30, High: 140}
	}
	return exam.Span{}
}

// Plausible refuses measures that no animal has: a reading beyond every size, a
// length of more than twice the girth or less than 0.4 of it, two girth readings
// more than a tenth apart. The error is a *notation.Refusal that names the likely
// slip. Readings of 0 are not taken and not looked at.
func Plausible(m Measures) error {
	for _, of := range AllMeasures() {
		cm := *m.field(of)
		if cm == 0 {
			continue
		}
		if err := inside(of, cm, m.Typed[of], possible(of), "any horse, donkey or mule"); err != nil {
			return err
		}
	}
	if m.GirthCm > 0 && m.GirthAgainCm > 0 && math.Abs(m.GirthCm-m.GirthAgainCm) > 0.1*max(m.GirthCm, m.GirthAgainCm) {
		return &notation.Refusal{
			Typed: cmText(m.GirthAgainCm),
			Why: fmt.Sprintf("the two girths, %s and %s, differ by more than a tenth; measure again",
				cmText(m.GirthCm), cmText(m.GirthAgainCm)),
		}
	}
	return lengthBesideGirth(m)
}

func lengthBesideGirth(m Measures) error {
	girth, ok := m.Cm(Girth)
	if !ok || m.LengthCm == 0 {
		return nil
	}
	ratio := m.LengthCm / girth
	if ratio >= 0.4 && ratio <= 2 {
		return nil
	}
	r := &notation.Refusal{
		Typed: cmText(m.LengthCm),
		Why: fmt.Sprintf("a length of %s beside a girth of %s is not possible for any horse, donkey or mule",
			cmText(m.LengthCm), cmText(girth)),
	}
	// A girth or a length in the other unit, or the two exchanged.
	usual := exam.Span{Low: 0.6, High: 1.15}
	switch {
	case ratio > 2 && usual.Contains(ratio/2.54):
		r.Meant = fmt.Sprintf("a girth of %s in (%s)", notation.FormatNumber(girth, 1), cmText(girth*2.54))
	case ratio < 0.4 && usual.Contains(ratio*2.54):
		r.Meant = fmt.Sprintf("a length of %s in (%s)", notation.FormatNumber(m.LengthCm, 1), cmText(m.LengthCm*2.54))
	}
	return r
}

// inside refuses a reading outside a span and looks for the slip that explains
// it: inches taken for centimetres, centimetres for inches, a lost or an added
// decimal place. typed is the unit it came in, empty where that is not known.
func inside(of Measure, cm float64, typed notation.Unit, span exam.Span, whose string) error {
	if span.Contains(cm) { // false for NaN
		return nil
	}
	if math.IsNaN(cm) || math.IsInf(cm, 0) {
		return &notation.Refusal{Why: fmt.Sprintf("the %s is not a number", of)}
	}
	return &notation.Refusal{
		Typed: cmText(cm), Meant: slip(cm, typed, span),
		Why: fmt.Sprintf("%s of %s is not possible for %s (%s to %s)", of.article(), cmText(cm), whose,
			notation.FormatNumber(span.Low, 0), cmText(span.High)),
	}
}

// slip is the reading that was likely meant; empty where none is found.
func slip(cm float64, typed notation.Unit, span exam.Span) string {
	switch {
	case typed != notation.Inch && span.Contains(cm*2.54):
		return fmt.Sprintf("%s in (%s)", notation.FormatNumber(cm, 2), cmText(cm*2.54))
	case typed != notation.Centimetre && span.Contains(cm/2.54):
		return cmText(cm / 2.54)
	case span.Contains(cm / 10):
		return cmText(cm / 10)
	case typed != notation.Inch && span.Contains(cm*100):
		return fmt.Sprintf("%s m (%s)", notation.FormatNumber(cm, 2), cmText(cm*100))
	case span.Contains(cm * 10):
		return cmText(cm * 10)
	}
	return ""
}

// article is the measure with its article, "a second girth".
func (m Measure) article() string {
	if m == GirthAgain {
		return "a second girth"
	}
	return "a " + m.String()
}

func cmText(cm float64) string {
	return notation.Quantity{Value: cm, Unit: notation.Centimetre}.Text(1)
}

// likelyGirth bounds the girth of this kind of animal at its age, so that inches
// taken for centimetres show in an adult too. Our own bounds, wide.
func likelyGirth(a Animal) exam.Span {
	adult := map[exam.AnimalKind]exam.Span{
		exam.AnimalHorse:     {Low: 125, High: 270},
		exam.AnimalPony:      {Low: 90, High: 225},
		exam.AnimalMiniature: {Low: 60, High: 150},
		exam.AnimalDraft:     {Low: 150, High: 320},
		exam.AnimalDonkey:    {Low: 65, High: 200},
		exam.AnimalMule:      {Low: 80, High: 250},
	}
	span, known := adult[a.Kind]
	if !known {
		return possible(Girth)
	}
	_, high := a.days()
	if high <= 2*daysPerYear {
		span.Low = 40
	}
	if high <= 366 {
		span.High *= 0.85
	}
	if high <= 92 {
		span.High = min(span.High, 150)
	}
	return span
}

// PlausibleFor looks at the girth beside the animal first, because that names the
// slip best, and then at the rest.
func PlausibleFor(a Animal, m Measures) error {
	whose := fmt.Sprintf("an animal of this kind and age (%s)", a.Words())
	for _, of := range []Measure{Girth, GirthAgain} {
		if cm := *m.field(of); cm != 0 {
			if err := inside(of, cm, m.Typed[of], likelyGirth(a), whose); err != nil {
				return err
			}
		}
	}
	return Plausible(m)
}
