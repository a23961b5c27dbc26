package fhir

import (
	"fmt"
	"slices"
	"strings"
	"time"

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
				if f.Step != step.ID {
					continue
				}
				for n, one := range inOrder(f) {
					o := w.finding(step, f, one, n)
					refs = append(refs, w.add(o.ID, o))
					lines = append(lines, line(step, one)+unsettled(f))
				}
			}
		}
		w.written = append(w.written, refs...)
		w.section(system.String(), lines, refs)
		if n := len(w.sections) - 1; len(refs) > 0 {
			w.sections[n].Code = &concept{Coding: []coding{{System: systemLOINC, Code: "29545-1", Display: loinc["29545-1"]}}}
		}
	}
}

// inOrder are the answers that stand at a place, the oldest first: more than one where laptops did not know of each other.
func inOrder(f exam.Finding) []exam.Finding {
	if !f.Disputed() {
		return []exam.Finding{f}
	}
	all := f.Standing()
	slices.SortFunc(all, func(a, b exam.Finding) int { return a.Seq - b.Seq })
	return all
}

func unsettled(f exam.Finding) string {
	if !f.Disputed() {
		return ""
	}
	return " (not settled)"
}

// notes are what was written in words, to a step or to the visit.
func (w *writer) notes() {
	var lines []string
	var refs []reference
	for n, note := range w.visit.Notes {
		if note.Silent() {
			continue
		}
		at := note.At
		if note.Happened != nil {
			at = *note.Happened
		}
		key, title := string(note.Step), "Note"
		if step, ok := w.page.Steps.ByID(note.Step); ok {
			title += " to " + step.Name
		}
		if key == "" {
			key = noteOfVisit
		}
		o := observation{
			ResourceType: "Observation", ID: w.id(fmt.Sprintf("note:%d", n)), Status: w.stands(exam.Finding{Why: note.Why, Added: note.Added, Happened: note.Happened}),
			Category: []concept{{Coding: []coding{{System: systemCategory, Code: "exam"}}}},
			Code:     concept{Coding: []coding{{System: systemNote, Code: key, Display: title}}, Text: title}, Subject: w.subject, Encounter: w.meeting,
			EffectiveDateTime: instant(at), Performer: []reference{w.person(note.By)}, BodySite: textPointer(string(note.Site)), ValueString: filled(note.Text),
		}
		for i, old := range note.Before {
			why := note.Why
			if i+1 < len(note.Before) {
				why = note.Before[i+1].Why
			}
			o.Note = append(o.Note, before(old.By, old.At, old.Text, why))
		}
		if note.Added && len(note.Before) == 0 {
			o.Note = append(o.Note, addedLater(note.By, note.At, note.Why))
		}
		refs, lines = append(refs, w.add(o.ID, o)), append(lines, note.At.Format("15:04 ")+note.Text)
	}
	w.written = append(w.written, refs...)
	w.section("Notes", lines, refs)
}

// noteOfVisit is the code of a note that is to no step.
const noteOfVisit = "visit"

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

// finding is one answer that stands at a place, the nth of them.
func (w *writer) finding(step exam.Step, place, f exam.Finding, n int) observation {
	at := f.At
	if f.Happened != nil {
		at = *f.Happened
	}
	o := observation{
		ResourceType: "Observation", ID: w.findingID(f, n), Status: w.stands(f),
		Category: []concept{{Coding: []coding{{System: systemCategory, Code: category(step.ID)}}}},
		Code:     code(step, f.Value), Subject: w.subject, Encounter: w.meeting,
		EffectiveDateTime: instant(at), Performer: []reference{w.person(f.By)}, BodySite: textPointer(string(f.Site)),
	}
	if note := notation.CleanNote(f.Note); note != "" {
		o.Note = append(o.Note, annotation{Text: note})
	}
	w.earlier(step, place, n, &o)
	if f.Added && len(place.Before) == 0 {
		o.Note = append(o.Note, addedLater(f.By, f.At, f.Why))
	}
	if place.Disputed() {
		o.Note = append(o.Note, annotation{Text: notation.CleanNote(besideWords + place.SaidBy(step) + ".")})
	}
	if !f.Done() {
		o.DataAbsentReason = absent(f.NotDone)
		return o
	}
	setValue(&o, step, f.Value)
	o.Method = textPointer(how(f.Value))
	w.ranged(&o, step, place, f)
	return o
}

// besideWords begin the note of an answer beside which another stands.
const besideWords = "two laptops did not know of each other, and nobody has settled it: "

// how says how a value was measured. A page marks a guess behind its number; here it is said like any other method.
func how(v exam.Value) string {
	if mark := strings.TrimSpace(v.Weight.Mark()); mark != "" {
		return strings.TrimSuffix(mark+"; "+report.How(v), "; ")
	}
	return report.How(v)
}

func (w *writer) findingID(f exam.Finding, n int) string {
	id := fmt.Sprintf("finding:%s:%s", f.Step, f.Site)
	if n > 0 {
		id += fmt.Sprintf(":%d", n)
	}
	return w.id(id)
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

// earlier keeps what stood before a correction readable, beside the first answer that stands at the place.
func (w *writer) earlier(step exam.Step, place exam.Finding, n int, o *observation) {
	if n > 0 {
		return
	}
	for _, pair := range place.Corrections() {
		o.Note = append(o.Note, before(pair[0].By, pair[0].At, report.Stood(pair[0], step), pair[1].Why))
	}
}

// The words that begin or divide what is said of corrections and of what was added later; read back by them.
const (
	beforeWords  = "before the correction: "
	becauseWords = "; corrected because: "
	addedWords   = "added after the visit was closed: "
)

func before(by string, at time.Time, said string, why exam.AmendReason) annotation {
	text := beforeWords + said
	if why != "" {
		text += becauseWords + why.String()
	}
	return annotation{AuthorString: notation.CleanLine(by, 0), Time: instant(at), Text: notation.CleanNote(text)}
}

func addedLater(by string, at time.Time, why exam.AmendReason) annotation {
	return annotation{AuthorString: notation.CleanLine(by, 0), Time: instant(at), Text: notation.CleanNote(addedWords + filled(why.String()))}
}
