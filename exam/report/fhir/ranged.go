package fhir

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// ranged sets what is usual for the animal's class beside the value, and how far
// the value stands from it.
func (w *writer) ranged(o *observation, step exam.Step, place, f exam.Finding) {
	r, out := w.remarks[f.Key()]
	if place.Disputed() { // what is said of the place is of the worst of its answers
		r, out = w.judge.Finding(w.visit, f, w.page.Earlier)
	}
	level := ranges.LevelUsual
	if out {
		level = r.Level
	}
	if f.Value.Number == nil || nominal(step.ID) {
		if w.wasJudged(step, f) {
			o.Interpretation = interpretation(flagged("A", level, out), level)
		}
		return
	}
	class := w.visit.Class()
	usual, held := w.judge.Range(class, step, f.Value.Number.Unit)
	if !held {
		return
	}
	if usual.Low != nil || usual.High != nil {
		o.ReferenceRange = []referenceRange{usualFor(class.Name, usual, step)}
	}
	if st, ok := w.judge.Standing(w.visit, f, w.page.Earlier); out || ok && st.Rated {
		o.Interpretation = interpretation(flagged(side(f, usual.Unit, usual.High), level, out), level)
	}
}

// usualFor is what is usual for a class, with its source.
func usualFor(class ranges.Class, usual judge.RangeText, step exam.Step) referenceRange {
	rr := referenceRange{Text: notation.CleanNote(fmt.Sprintf("usual for %s: %s (%s)", class, usual.Usual, usual.Source))}
	if usual.Low != nil {
		rr.Low = measured(*usual.Low, usual.Unit, step)
	}
	if usual.High != nil {
		rr.High = measured(*usual.High, usual.Unit, step)
	}
	return rr
}

// side is H above what is usual, else L.
func side(f exam.Finding, u notation.Unit, high *float64) string {
	if v, ok := f.Value.In(u); ok && high != nil && v > *high {
		return "H"
	}
	return "L"
}

// flagged is N where a finding is usual, the mark where it stands out, and the mark twice where the veterinarian is told.
func flagged(mark string, level exam.Level, out bool) string {
	switch {
	case !out || level == ranges.LevelUsual:
		return "N"
	case level == ranges.LevelTell:
		return mark + mark
	}
	return mark
}

// wasJudged says that something can be said of a finding in words: it has a remark, or a choice that has a level.
func (w *writer) wasJudged(step exam.Step, f exam.Finding) bool {
	if _, out := w.remarks[f.Key()]; out {
		return true
	}
	for _, n := range w.page.Verdict.NotJudged {
		if n.Step == f.Step && n.Site == f.Site {
			return false
		}
	}
	return len(f.Value.Words) > 0 && len(step.Choices) > 0
}

// interpretation is HL7's code with this program's level beside it.
func interpretation(code string, level exam.Level) []concept {
	return []concept{{Text: level.String(), Coding: []coding{
		{System: systemInterpretation, Code: code, Display: interpreted[code]},
		{System: systemLevel, Code: strings.ReplaceAll(level.Key(), " ", "-"), Display: level.String()},
	}}}
}
