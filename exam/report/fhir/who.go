package fhir

import (
	"strings"

	"loosebox/exam"
)

// patient is the animal. The id is the horse's own, a UUID.
func (w *writer) patient() {
	h := w.visit.Horse
	id := w.id("patient")
	p := patient{
		ResourceType: "Patient", ID: id, Name: []name{{filled(h.Name)}}, Gender: gender(h.Sex), BirthDate: birth(h.Birth),
		Extension: []extension{{URL: extensionAnimal, Extension: animal(h)}},
	}
	if h.Chip != "" {
		p.Identifier = append(p.Identifier, identifier{systemChip, filled(h.Chip)})
	}
	if h.UELN != "" {
		p.Identifier = append(p.Identifier, identifier{systemUELN, filled(h.UELN)})
	}
	if h.Owner != "" {
		p.Contact = []contact{owner(h)}
	}
	w.subject = w.add(id, p)
}

func gender(s exam.Sex) string {
	switch s {
	case exam.Mare, exam.Filly:
		return "female"
	case exam.Stallion, exam.Colt, exam.Gelding:
		return "male"
	case exam.SexUnknown:
	}
	return "unknown"
}

// animal are the parts of the patient-animal extension: species as text, because
// its example codes are licensed.
func animal(h exam.Horse) []extension {
	out := []extension{{URL: "species", ValueCodeableConcept: textPointer(string(h.Kind))}}
	if breed := textPointer(h.Breed); breed != nil {
		out = append(out, extension{URL: "breed", ValueCodeableConcept: breed})
	}
	status := "unknown"
	switch h.Sex {
	case exam.Gelding:
		status = "neutered"
	case exam.Stallion, exam.Colt:
		status = "intact"
	case exam.Mare, exam.Filly, exam.SexUnknown:
	}
	return append(out, extension{URL: "genderStatus", ValueCodeableConcept: &concept{Coding: []coding{{System: systemGenderStatus, Code: status}}}})
}

// birth is as exact as what is known: day, month or year.
func birth(b exam.Birth) string {
	switch b.Precision {
	case exam.BornMinute, exam.BornDay:
		return b.At.Format("2006-01-02")
	case exam.BornMonth:
		return b.At.Format("2006-01")
	case exam.BornYear, exam.BornEstimated:
		return b.At.Format("2006")
	case exam.BornUnknown, exam.BornFoal, exam.BornAdult:
	}
	return ""
}

func owner(h exam.Horse) contact {
	c := contact{Relationship: []concept{text("owner")}, Name: name{filled(h.Owner)}}
	if h.OwnerPhone != "" {
		c.Telecom = []telecom{{"phone", filled(h.OwnerPhone)}}
	}
	if h.OwnerAddress != "" {
		c.Address = &name{filled(h.OwnerAddress)}
	}
	return c
}

// encounter is the visit, in the field.
func (w *writer) encounter() {
	v := w.visit
	id := w.id("encounter")
	e := encounter{
		ResourceType: "Encounter", ID: id, Status: "in-progress", Class: coding{systemEncounterClass, "FLD", "field"},
		Subject: w.subject, Participant: []participant{{w.person(v.By)}}, Period: period{Start: instant(v.OpenedAt)},
	}
	if v.ClosedAt != nil {
		e.Status = "finished"
		if !v.ClosedBeforeOpened() { // R4, per-1: a start is not after its end
			e.Period.End = instant(*v.ClosedAt)
		}
	}
	if !v.Stands() {
		e.Status = inError
	}
	if v.Reason != "" {
		e.ReasonCode = []concept{text(v.Reason)}
	}
	w.meeting = w.add(id, e)
	var before []string
	for _, s := range v.Context.States {
		before = append(before, string(s))
	}
	if len(before) > 0 {
		w.section("Before the exam", []string{strings.Join(before, ", ")}, nil)
	}
	if v.Context.MedicineText() != "" {
		w.section("Medicine before the exam", []string{v.Context.MedicineLine()}, nil)
	}
}

// provenance says who wrote the visit and binds it to the digest of its last entry.
func (w *writer) provenance() {
	id := w.id("provenance")
	p := provenance{
		ResourceType: "Provenance", ID: id, Target: append([]reference{w.meeting}, w.written...), Recorded: instant(w.last()),
		Entity: []entity{{Role: "source", What: reference{Identifier: &identifier{systemDigest, string(w.visit.Last)}, Display: "SHA-256 of the last entry of the visit"}}},
	}
	seen := map[string]bool{}
	for _, e := range w.page.Entries {
		who := w.person(e.By)
		if !seen[who.Reference] {
			seen[who.Reference] = true
			p.Agent = append(p.Agent, agent{concept{Coding: []coding{{systemParticipant, "author", "Author"}}}, who})
		}
	}
	if len(p.Agent) == 0 {
		p.Agent = []agent{{concept{Coding: []coding{{systemParticipant, "author", "Author"}}}, w.person(w.visit.By)}}
	}
	for _, d := range w.visit.Decisions {
		who := w.person(d.Vet)
		if !seen[who.Reference] {
			seen[who.Reference] = true
			p.Agent = append(p.Agent, agent{concept{Coding: []coding{{systemParticipant, "verifier", "Verifier"}}}, who})
		}
	}
	w.section("Record", nil, []reference{w.add(id, p)})
}
