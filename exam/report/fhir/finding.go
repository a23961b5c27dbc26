package fhir

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/ranges"
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
	}
	var notes []string
	for _, n := range w.visit.Notes {
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
		return name + ": not done, " + f.NotDone
	}
	return name + ": " + f.Value.Show(step)
}

func (w *writer) finding(step exam.Step, f exam.Finding) observation {
	o := observation{
		ResourceType: "Observation", ID: w.id(fmt.Sprintf("finding:%s:%s", f.Step, f.Site)), Status: w.status(f),
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

// inError is the status of what a struck visit holds: HL7's own word for it.
const inError = "entered-in-error"

// status says that a finding was corrected, or that it stands in an open visit.
func (w *writer) status(f exam.Finding) string {
	switch {
	case !w.visit.Stands():
		return inError
	case len(f.Before) > 0:
		return "corrected"
	case w.visit.Closed():
		return "final"
	}
	return "preliminary"
}

// earlier keeps what stood before a correction readable.
func (w *writer) earlier(step exam.Step, f exam.Finding, o *observation) {
	for i, old := range f.Before {
		text := "before the correction: " + report.Stood(old, step)
		why := f.Why
		if i+1 < len(f.Before) {
			why = f.Before[i+1].Why
		}
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
		c.Coding = append(c.Coding, coding{systemLOINC, l, loinc[l]})
	}
	c.Coding = append(c.Coding, coding{systemStep, string(step.ID), step.Name})
	return c
}

func absent(reason string) *concept {
	code := "not-performed"
	if reason == exam.ReasonNotApplicable {
		code = "not-applicable"
	}
	return &concept{Coding: []coding{{System: systemAbsent, Code: code}}, Text: filled(reason)}
}

// setValue fills exactly one value.
func setValue(o *observation, step exam.Step, v exam.Value) {
	switch {
	case step.Kind == exam.KindEvent:
		o.ValueString = filled(v.Show(step))
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

func choice(step exam.Step, c exam.Choice) coding {
	return coding{systemChoice + ":" + string(step.ID), c.Key, c.Words}
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

// ranged sets what is usual for the animal's class beside the value, and how far
// the value stands from it.
func (w *writer) ranged(o *observation, step exam.Step, f exam.Finding) {
	r, out := w.remarks[f.Key()]
	if f.Value.Number == nil {
		if out && r.Level > ranges.LevelUsual {
			o.Interpretation = interpretation("A")
		}
		return
	}
	class := w.visit.Class()
	usual, held := w.judge.Range(class, step, f.Value.Number.Unit)
	if !held {
		return
	}
	rr := referenceRange{Text: notation.CleanNote(fmt.Sprintf("usual for %s: %s (%s)", class.Name, usual.Usual, usual.Source))}
	if usual.Low != nil {
		rr.Low = measured(*usual.Low, usual.Unit, step)
	}
	if usual.High != nil {
		rr.High = measured(*usual.High, usual.Unit, step)
	}
	o.ReferenceRange = []referenceRange{rr}
	o.Interpretation = interpretation(flag(f, usual.Unit, usual.High, out, r.Level))
}

// flag is N, or H or L by the side, doubled where the veterinarian is told.
func flag(f exam.Finding, u notation.Unit, high *float64, out bool, level exam.Level) string {
	if !out || level == ranges.LevelUsual {
		return "N"
	}
	side := "L"
	if v, ok := f.Value.In(u); ok && high != nil && v > *high {
		side = "H"
	}
	if level == ranges.LevelTell {
		side += side
	}
	return side
}

func interpretation(code string) []concept {
	return []concept{{Coding: []coding{{System: systemInterpretation, Code: code}}}}
}
