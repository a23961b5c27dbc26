package report

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	tape "loosebox/exam/weight"
)

// How says in a few words how a value was measured.
func How(v exam.Value) string {
	var parts []string
	if c := v.Count; c != nil {
		parts = append(parts, c.Method.String())
		switch {
		case c.HalfWidth > 0:
			parts = append(parts, fmt.Sprintf("+/- %s /min in this count, %d taps", notation.FormatNumber(c.HalfWidth, 1), c.Taps()))
		case c.WindowS > 0:
			parts = append(parts, fmt.Sprintf("%d in %s s", c.Counted, notation.FormatNumber(c.WindowS, 0)))
		}
		if c.Evenness != "" {
			parts = append(parts, c.EvennessWords())
		}
	}
	if v.Weight != nil {
		unit := notation.Kilograms
		if v.Number != nil {
			unit = v.Number.Unit
		}
		parts = append(parts, weighed(*v.Weight, unit)...)
	}
	if len(v.TrialsS) > 1 {
		times := make([]string, len(v.TrialsS))
		for i, t := range v.TrialsS {
			times[i] = notation.FormatNumber(t, 1)
		}
		parts = append(parts, "median of "+strings.Join(times, ", ")+" s")
	}
	if v.Measured != "" {
		parts = append(parts, v.Measured)
	}
	return strings.Join(parts, "; ")
}

// weighed says how a weight was found, by which equation, and between what the true one is likely to lie, in
// the unit of the weight. A guess is marked behind its number already.
func weighed(w exam.Weight, unit notation.Unit) []string {
	var parts []string
	switch {
	case w.Equation != "":
		parts = append(parts, "by "+w.Equation)
	case w.Mark() == "":
		parts = append(parts, w.Method.String())
	}
	if w.HighKg > 0 && w.Method != exam.WeightScale {
		span := tape.SpanWords(w.LowKg, w.HighKg, unit)
		if w.BandPercent > 0 {
			parts = append(parts, fmt.Sprintf("%d of 100 animals: %s", w.BandPercent, span))
		} else {
			parts = append(parts, "likely "+span)
		}
	}
	return parts
}
