package weight

import (
	"cmp"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Explain says where an estimate comes from: equation, measures, whom it was made for and measured on, published error,
// source and evidence, a line each.
func (e Estimate) Explain() []string {
	return append([]string{
		e.Equation.line(), "measured: " + e.MeasuredAs,
	}, e.Equation.explain(e.Band)...)
}

// Explain says the same of an equation alone.
func (e Equation) Explain() []string { return e.ExplainFor(Animal{}, Measures{}) }

// ExplainFor says it of this animal, where the error depends on it.
func (e Equation) ExplainFor(a Animal, m Measures) []string {
	return append([]string{e.line()}, e.explain(e.BandFor(a, m))...)
}

// line is the equation; one that names its own terms is written as it stands.
func (e Equation) line() string {
	if strings.Contains(e.Formula, "=") {
		return e.ID + ": " + e.Formula
	}
	return e.ID + ": W = " + e.Formula
}

func (e Equation) explain(b ErrorBand) []string {
	lines := []string{fmt.Sprintf("made for %s; measured on: %s", e.For, e.Population)}
	if e.LengthDef != "" {
		lines = append(lines, "its length goes "+e.LengthDef)
	}
	lines = append(lines, "published error: "+cmp.Or(e.PublishedError, "none is known"), b.Words())
	if e.Note != "" {
		lines = append(lines, e.Note)
	}
	return append(lines, fmt.Sprintf("source: %s (%s)", e.Source, e.Evidence))
}

// Explain says how far a method of weighing is off, by whom that was measured, a line each.
func (m Method) Explain() []string {
	lines := []string{m.Name.String() + ": " + m.Words}
	for _, p := range m.Published {
		text := fmt.Sprintf("%s: read %s %% of the scale in the mean", p.Whom, notation.FormatNumber(p.MeanPercent, 1))
		if p.SDPercent > 0 {
			text += ", SD " + notation.FormatNumber(p.SDPercent, 1)
		}
		if p.Animals > 0 {
			text += fmt.Sprintf(" (n %d)", p.Animals)
		}
		lines = append(lines, fmt.Sprintf("%s; %s (%s)", text, p.Source, p.Evidence))
	}
	return append(lines, fmt.Sprintf("%s (%s)", m.Band.Words(), m.Evidence))
}

// ExplainRecorded says where a weight in the record comes from, as it was found there.
func ExplainRecorded(w *exam.Weight, a Animal) []string {
	if w == nil {
		return []string{"how this weight was found is not in the record"}
	}
	if e, ok := ByID(w.Equation); ok && w.Equation != "" {
		return append(readings(w), e.ExplainFor(a, measured(w))...)
	}
	if m, ok := MethodOf(w.Method, a, 0); ok {
		return m.Explain()
	}
	return []string{"found by: " + notation.CleanLine(w.Method.String(), 60)}
}

// measured are the tape's readings in cm, as far as they can be read.
func measured(w *exam.Weight) Measures {
	read := make(map[Measure]notation.Quantity, len(w.Measures))
	for of, q := range w.Measures {
		read[Measure(of)] = q
	}
	m, _ := FromReadings(read, FromUnsaid)
	return m
}

// readings are the tape's as they were typed, in the order in which they are taken.
func readings(w *exam.Weight) []string {
	var parts []string
	for _, of := range AllMeasures() {
		if q, ok := w.Measures[string(of)]; ok {
			parts = append(parts, fmt.Sprintf("%s %s", of, q.Text(1)))
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{"measured: " + strings.Join(parts, ", ")}
}

func signed(v float64) string {
	if v > 0 {
		return "+" + notation.FormatNumber(v, 1)
	}
	return notation.FormatNumber(v, 1)
}
