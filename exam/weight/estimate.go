package weight

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Estimate is what one equation makes of the measures.
type Estimate struct {
	Equation Equation
	Kg       float64
	// LowKg and HighKg bound the true weight by how far the equation reads off,
	// and Band says how many animals lay inside.
	LowKg, HighKg float64
	Band          ErrorBand
	Fits          bool   // the equation was made for this animal
	Why           string // whom it was made for, or why it does not fit
	MeasuredAs    string // the measures used, in cm
}

// Fitting lists the equations made for this animal, the one to choose first.
// It is empty where no published equation is held, as for a miniature: then
// only a scale will do.
func Fitting(a Animal) []Equation {
	var fits []Equation
	for _, e := range Equations() {
		if ok, _ := e.takes(a); ok && e.SameAs == "" {
			fits = append(fits, e)
		}
	}
	slices.SortStableFunc(fits, func(x, y Equation) int { return x.rank - y.rank })
	return fits
}

// Estimates computes every equation that the measures allow: those made for the
// animal first, the one to choose at their head, then the others with the reason
// why they do not fit. chosen is the index of the chosen estimate, -1 where none
// fits; why says how it was chosen. Measures that are not possible, that no
// equation can use, or a donkey's or mule's length of unsaid origin are refused
// with a *notation.Refusal.
func Estimates(a Animal, m Measures) (all []Estimate, chosen int, why string, err error) {
	if err := PlausibleFor(a, m); err != nil {
		return nil, -1, "", err
	}
	m, assumed, err := settleLength(a, m)
	if err != nil {
		return nil, -1, "", err
	}
	for _, e := range Equations() {
		if kg, err := e.Kg(m); err == nil {
			all = append(all, e.estimate(a, m, kg, assumed))
		}
	}
	slices.SortStableFunc(all, func(x, y Estimate) int {
		switch {
		case x.Fits != y.Fits && x.Fits:
			return -1
		case x.Fits != y.Fits:
			return 1
		case x.Fits:
			return x.Equation.rank - y.Equation.rank
		}
		return 0
	})
	out := LeftOut(a, m)
	if len(all) == 0 {
		return nil, -1, "", nothingComputed(a, out)
	}
	if !all[0].Fits {
		return all, -1, whyNone(a, out), nil
	}
	return all, 0, whyChosen(all, m, out), nil
}

func (e Equation) estimate(a Animal, m Measures, kg float64, assumed bool) Estimate {
	est := Estimate{Equation: e, Kg: kg, MeasuredAs: e.measuredAs(m, assumed), Band: e.BandFor(a, m)}
	est.LowKg, est.HighKg = est.Band.Of(kg)
	est.Fits, est.Why = e.takes(a)
	switch height, _ := m.Cm(Height); {
	case !est.Fits:
	case e.SameAs != "":
		est.Fits, est.Why = false, fmt.Sprintf("the same equation as %q in other units", e.SameAs)
	case height > 0 && height < e.on.minHeightCm:
		est.Fits, est.Why = false, fmt.Sprintf("made on animals of %s cm and taller", notation.FormatNumber(e.on.minHeightCm, 0))
	case e.ToKg > 0 && (est.HighKg < e.FromKg || est.LowKg > e.ToKg):
		est.Fits = false
		est.Why = fmt.Sprintf("made on animals of %s to %s kg", notation.FormatNumber(e.FromKg, 0), notation.FormatNumber(e.ToKg, 0))
	default:
		est.Why = fmt.Sprintf("made for %s; measured on: %s", e.For, e.Population)
		if e.Note != "" {
			est.Why += ". " + e.Note
		}
	}
	return est
}

// settleLength says where an unsaid length was taken from: from the shoulder in
// horses. In donkeys and mules both ways are in use and 28 % apart, so it must
// be said.
func settleLength(a Animal, m Measures) (Measures, bool, error) {
	switch {
	case m.LengthCm == 0:
		return m, false, nil
	case m.LengthFrom != FromUnsaid && !slices.Contains(LengthsFrom(), m.LengthFrom):
		return m, false, &notation.Refusal{
			Typed: string(m.LengthFrom), Why: fmt.Sprintf("%q is no place to take the length from", notation.CleanLine(string(m.LengthFrom), 40)),
			Meant: "shoulder or elbow",
		}
	case m.LengthFrom != FromUnsaid:
		return m, false, nil
	case a.Kind == exam.AnimalDonkey || a.Kind == exam.AnimalMule:
		return m, false, &notation.Refusal{
			Why:   fmt.Sprintf("enter where the length of the %s begins: shoulder and elbow give very different weights", a.Kind),
			Meant: "a length " + FromElbow.Words(),
		}
	}
	m.LengthFrom = FromShoulder
	return m, true, nil
}

// measuredAs lists the measures an equation used.
func (e Equation) measuredAs(m Measures, assumed bool) string {
	parts := make([]string, 0, len(e.Needs))
	for _, of := range e.Needs {
		cm, _ := m.Cm(of)
		part := fmt.Sprintf("%s %s", of, cmText(cm))
		switch {
		case of == Girth && m.GirthCm > 0 && m.GirthAgainCm > 0:
			part += fmt.Sprintf(" (mean of %s and %s)", notation.FormatNumber(m.GirthCm, 1), cmText(m.GirthAgainCm))
		case of == Length && assumed:
			part += " (taken to be " + m.LengthFrom.Words() + ")"
		case of == Length:
			part += " " + m.LengthFrom.Words()
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, ", ")
}

// Recorded is how the estimate is kept in a record, with the readings as typed.
func (e Estimate) Recorded(readings map[Measure]notation.Quantity) exam.Weight {
	kept := make(map[string]notation.Quantity, len(readings))
	for of, q := range readings {
		kept[string(of)] = q
	}
	return exam.Weight{
		Method: exam.WeightMeasured, Measures: kept, Equation: e.Equation.ID,
		LowKg: e.LowKg, HighKg: e.HighKg, BandPercent: e.Band.Percent,
	}
}

// BandWords bound the true weight, with the share of animals that lay inside where a study says it, in
// the unit in which a person works.
func (e Estimate) BandWords(unit notation.Unit) string {
	span := "between " + strings.Replace(SpanWords(e.LowKg, e.HighKg, unit), " to ", " and ", 1)
	if e.Band.Percent == 0 {
		return "likely " + span
	}
	return fmt.Sprintf("%d of 100 animals %s", e.Band.Percent, span)
}

// Answer is the estimate as the answer to a step: to the kilogram, under 50 kg to
// a tenth of it.
func (e Estimate) Answer(readings map[Measure]notation.Quantity) exam.Value {
	return e.AnswerIn(notation.Kilograms, readings)
}

// AnswerIn is Answer in the unit in which a person works: pounds, to the pound, or
// kilograms for any other.
func (e Estimate) AnswerIn(unit notation.Unit, readings map[Measure]notation.Quantity) exam.Value {
	q := notation.Quantity{Value: e.Kg, Unit: notation.Kilograms}
	if unit == notation.Pounds {
		q, _ = q.In(unit)
	}
	if q.Value = math.Round(q.Value); e.Kg < 50 && q.Unit == notation.Kilograms {
		q.Value = math.Round(e.Kg*10) / 10
	}
	w := e.Recorded(readings)
	return exam.Value{Kind: exam.KindWeight, Number: &q, Weight: &w}
}

// Whole is a weight in kg to the unit in which a person works: "1129 lb", "512 kg".
func Whole(kg float64, unit notation.Unit) string {
	q := notation.Quantity{Value: kg, Unit: notation.Kilograms}
	if unit == notation.Pounds {
		q, _ = q.In(unit)
	}
	return q.Text(0)
}

// SpanWords are two weights in kg in the unit in which a person works: "1073 to 1184 lb".
func SpanWords(lowKg, highKg float64, unit notation.Unit) string {
	low, _, _ := strings.Cut(Whole(lowKg, unit), " ")
	return low + " to " + Whole(highKg, unit)
}
