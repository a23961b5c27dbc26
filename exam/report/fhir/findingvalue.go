package fhir

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func category(step exam.StepID) string {
	if vital(step) {
		return "vital-signs"
	}
	return "exam"
}

// code is the LOINC code where one fits, and always this program's own.
func code(step exam.Step, v exam.Value) concept {
	c := concept{Text: step.Name}
	list := known[step.ID]
	if v.Weight != nil && v.Weight.Method == exam.WeightScale {
		list = append([]string{list[0]}, "3141-9")
	}
	for _, l := range list {
		c.Coding = append(c.Coding, coding{System: systemLOINC, Code: l, Display: loinc[l]})
	}
	c.Coding = append(c.Coding, coding{System: systemStep, Code: string(step.ID), Display: step.Name})
	return c
}

func absent(reason exam.Reason) *concept {
	code := "not-performed"
	if reason == exam.ReasonNotApplicable {
		code = "not-applicable"
	}
	return &concept{Coding: []coding{{System: systemAbsent, Code: code}}, Text: filled(string(reason))}
}

// setValue fills exactly one value.
func setValue(o *observation, step exam.Step, v exam.Value) {
	switch {
	case step.Kind == exam.KindEvent && v.At != nil:
		o.ValueDateTime = instant(*v.At)
	case nominal(step.ID) && len(v.Words) == 1:
		c, _ := step.Choice(v.Words[0])
		code, score := choice(step, c), c.Score
		code.Extension = []extension{{URL: extensionOrdinal, ValueDecimal: &score}}
		o.ValueCodeableConcept = &concept{Coding: []coding{code}, Text: c.Words}
		if step.ID == "heart.murmur" {
			o.ValueCodeableConcept.Text = fmt.Sprintf("grade %s of 6, %s", notation.FormatNumber(c.Score, 0), c.Words)
		}
	case step.Kind == exam.KindScale && len(v.Words) == 1:
		c, _ := step.Choice(v.Words[0])
		o.ValueQuantity = measured(c.Score, notation.Points, step)
		o.Note = append(o.Note, annotation{Text: c.Words})
	case v.Number != nil:
		o.ValueQuantity = measured(v.Number.Value, v.Number.Unit, step)
		o.ValueQuantity.Comparator = comparator(v.Bound)
	case len(v.Words) == 1:
		c, _ := step.Choice(v.Words[0])
		o.ValueCodeableConcept = &concept{Coding: []coding{choice(step, c)}, Text: c.Words}
	case len(v.Words) > 1:
		o.ValueString = notation.CleanNote(v.Show(step))
		for _, key := range v.Words {
			c, _ := step.Choice(key)
			o.Component = append(o.Component, component{Code: concept{Coding: []coding{choice(step, c)}, Text: c.Words}, ValueBoolean: true})
		}
	case notation.CleanNote(v.Text) != "":
		o.ValueString = notation.CleanNote(v.Text)
	default:
		o.DataAbsentReason = &concept{Coding: []coding{{System: systemAbsent, Code: "unknown"}}}
	}
}

// nominal says that the LOINC code of a step is of the nominal scale, which has no quantity.
func nominal(step exam.StepID) bool {
	for _, code := range known[step] {
		if len(allowed[code]) == 0 {
			return true
		}
	}
	return false
}

func choice(step exam.Step, c exam.Choice) coding {
	return coding{System: systemChoice + ":" + string(step.ID), Code: c.Key, Display: c.Words}
}

// measured is a number with its unit, rounded to a thousandth so that no
// instrument seems finer than it is and no conversion noise is written.
func measured(v float64, u notation.Unit, step exam.Step) *quantity {
	is := unitOf(u, step)
	return &quantity{Value: rounded(v), Unit: is.shown, System: systemUCUM, Code: is.code}
}

func comparator(b exam.Bound) string {
	switch b {
	case exam.Under:
		return "<"
	case exam.UpTo:
		return "<="
	case exam.Over:
		return ">"
	case exam.AtLeast:
		return ">="
	case exam.NoBound:
	}
	return ""
}

// interpreted are the names of the codes of v3-ObservationInterpretation that are written.
var interpreted = map[string]string{
	"N": "Normal", "A": "Abnormal", "AA": "Critical abnormal", "H": "High", "HH": "Critical high", "L": "Low", "LL": "Critical low",
}
