package fhir

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
)

// findings writes an Observation for every finding, a section for each system.
func (w *writer) findings() {
	for _, system := range exam.Systems() {
		var lines []string
		var refs []reference
		for _, step := range w.page.Steps.All() {
			if step.System != system {
				continue
			}
			for _, f := range w.visit.Findings {
				if f.Step == step.ID {
					o := w.finding(step, f)
					refs = append(refs, w.add(o.ID, o))
					lines = append(lines, line(step, f))
				}
			}
		}
		w.written = append(w.written, refs...)
		w.section(system.String(), lines, refs)
		if n := len(w.sections) - 1; len(refs) > 0 {
			w.sections[n].Code = &concept{Coding: []coding{{System: systemLOINC, Code: "29545-1", Display: loinc["29545-1"]}}}
		}
	}
	var notes []string
	for _, n := range w.visit.Notes {
		if n.Silent() {
			continue
		}
		notes = append(notes, n.At.Format("15:04 ")+n.Text)
	}
	w.section("Notes", notes, nil)
}

func line(step exam.Step, f exam.Finding) string {
	name := step.Name
	if f.Site != exam.NoSite {
		name += ", " + f.Site.String()
	}
	if !f.Done() {
		return name + ": not done, " + f.NotDone.String()
	}
	return name + ": " + f.Value.Show(step)
}

func (w *writer) finding(step exam.Step, f exam.Finding) observation {
	o := observation{
		ResourceType: "Observation", ID: w.findingID(f), Status: w.stands(f),
		Category: []concept{{Coding: []coding{{System: systemCategory, Code: category(step.ID)}}}},
		Code:     code(step, f.Value), Subject: w.subject, Encounter: w.meeting,
		EffectiveDateTime: instant(f.At), Performer: []reference{w.person(f.By)}, BodySite: textPointer(string(f.Site)),
	}
	if note := notation.CleanNote(f.Note); note != "" {
		o.Note = append(o.Note, annotation{Text: note})
	}
	w.earlier(step, f, &o)
	if !f.Done() {
		o.DataAbsentReason = absent(f.NotDone)
		return o
	}
	setValue(&o, step, f.Value)
	if how := report.How(f.Value); how != "" {
		o.Method = textPointer(how)
	}
	w.ranged(&o, step, f)
	return o
}

func (w *writer) findingID(f exam.Finding) string {
	return w.id(fmt.Sprintf("finding:%s:%s", f.Step, f.Site))
}

// inError is the status of what a struck visit holds: HL7's own word for it.
const inError = "entered-in-error"

// stands is the status of a finding by R4's definitions: preliminary in an open visit, final once it is closed, corrected
// where a slip was put right after that, amended where what is known was added to; cancelled where it was not done.
func (w *writer) stands(f exam.Finding) string {
	v := w.visit
	switch {
	case !v.Stands():
		return inError
	case !f.Done():
		return "cancelled"
	case !v.Closed():
		return "preliminary"
	case f.Added || f.Happened != nil:
		return "amended"
	case f.Why != "":
		return "corrected"
	}
	return "final"
}

// earlier keeps what stood before a correction readable.
func (w *writer) earlier(step exam.Step, f exam.Finding, o *observation) {
	for _, pair := range f.Corrections() {
		old, why := pair[0], pair[1].Why
		text := "before the correction: " + report.Stood(old, step)
		if why != "" {
			text += "; corrected because: " + why
		}
		o.Note = append(o.Note, annotation{AuthorString: notation.CleanLine(old.By, 0), Time: instant(old.At), Text: notation.CleanNote(text)})
	}
}

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
	case step.Kind == exam.KindEvent:
		o.ValueString = filled(v.Show(step))
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
