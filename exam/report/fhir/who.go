package fhir

import (
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
)

// patient is the animal, under its own UUID in every document.
func (w *writer) patient() {
	h := w.visit.Horse
	id := horseID(h)
	p := patient{
		ResourceType: "Patient", ID: id, Name: []name{{Text: filled(h.Name)}}, Gender: gender(h.Sex), BirthDate: birth(h.Birth), BornAt: bornAt(h.Birth),
		Extension:  []extension{{URL: extensionAnimal, Extension: animal(h)}},
		Identifier: []identifier{{Use: "official", System: systemURI, Value: "urn:uuid:" + id}},
	}
	if h.Chip != "" {
		p.Identifier = append(p.Identifier, identifier{
			Type:   &concept{Coding: []coding{{System: systemIdentifier, Code: "MCN", Display: "Microchip Number"}}, Text: "microchip"},
			System: systemChip, Value: filled(h.Chip),
		})
	}
	if h.UELN != "" {
		p.Identifier = append(p.Identifier, identifier{Type: &concept{Text: "UELN"}, System: systemUELN, Value: filled(h.UELN)})
	}
	if h.Owner != "" {
		p.Contact = []contact{owner(h)}
	}
	who := []string{h.Name + ", " + h.Kind.String() + ", " + h.AgeWords(w.visit.OpenedAt)}
	for _, more := range []string{labelled("chip ", h.Chip), labelled("UELN ", h.UELN), labelled("owner ", h.Owner)} {
		if more != "" {
			who = append(who, more)
		}
	}
	p.Text = narrated(who)
	w.subject = w.add(id, p)
}

// horseID is the animal's own UUID; one made from its identity where that is no UUID.
func horseID(h exam.Horse) string {
	if id, err := uuid.Parse(string(h.ID)); err == nil {
		return id.String()
	}
	return uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:x-loosebox:horse:"+string(h.ID)+":"+h.Name+":"+h.Owner)).String()
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
	return append(out, extension{URL: "genderStatus", ValueCodeableConcept: &concept{Coding: []coding{{System: systemGenderStatus, Code: status}}, Text: string(h.Sex)}})
}

// bornAt is what a date alone does not say of a birth: its minute, by HL7's extension, or that it is an estimate or known as
// foal or adult alone.
func bornAt(b exam.Birth) *element {
	switch b.Precision {
	case exam.BornMinute:
		return &element{[]extension{{URL: extensionBirthTime, ValueDateTime: b.At.Format(time.RFC3339Nano)}}}
	case exam.BornEstimated, exam.BornFoal, exam.BornAdult:
		return &element{[]extension{{URL: extensionBirth, ValueString: string(b.Precision)}}}
	case exam.BornUnknown, exam.BornDay, exam.BornMonth, exam.BornYear:
	}
	return nil
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
	c := contact{Relationship: []concept{text("owner")}, Name: name{Text: filled(h.Owner)}}
	if h.OwnerPhone != "" {
		c.Telecom = []telecom{{"phone", filled(h.OwnerPhone)}}
	}
	if h.OwnerAddress != "" {
		c.Address = &name{Text: filled(h.OwnerAddress)}
	}
	return c
}

// encounter is the visit, in the field.
func (w *writer) encounter() {
	v := w.visit
	id := w.id("encounter")
	e := encounter{
		ResourceType: "Encounter", ID: id, Status: "in-progress", Class: coding{System: systemEncounterClass, Code: "FLD", Display: "field"},
		Type: []concept{{Coding: []coding{{System: systemRoutine, Code: v.Routine}}}}, Subject: w.subject, Participant: []participant{{w.person(v.By)}}, Period: period{Start: instant(v.OpenedAt)},
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
	w.context()
}

// context is how the animal was before the exam and which medicine it had had: what a finding is read by.
func (w *writer) context() {
	c := w.visit.Context
	var before []string
	var states, medicines []string
	for _, s := range c.States {
		before, states = append(before, string(s)), append(states, string(s))
	}
	for _, m := range c.Medicines {
		medicines = append(medicines, string(m))
	}
	if len(before) > 0 {
		w.section("Before the exam", []string{strings.Join(before, ", ")}, w.marked(systemState, "Before the exam", states, ""))
	}
	if c.MedicineText() != "" {
		w.section("Medicine before the exam", []string{c.MedicineLine()}, w.marked(systemMedicine, "Medicine before the exam", medicines, c.Given))
	}
}

// marked is an Observation of what holds of a list, in this program's own codes.
func (w *writer) marked(system, name string, list []string, note string) []reference {
	id := w.id(system)
	o := observation{
		ResourceType: "Observation", ID: id, Status: w.stands(exam.Finding{}), Category: []concept{{Coding: []coding{{System: systemCategory, Code: "exam"}}}},
		Code: concept{Coding: []coding{{System: system, Code: "list", Display: name}}, Text: name}, Subject: w.subject, Encounter: w.meeting,
		EffectiveDateTime: instant(w.visit.OpenedAt), Performer: []reference{w.person(w.visit.By)}, ValueString: filled(strings.Join(list, ", ")),
	}
	for _, key := range list {
		o.Component = append(o.Component, component{Code: concept{Coding: []coding{{System: system, Code: key, Display: key}}, Text: key}, ValueBoolean: true})
	}
	if note = notation.CleanNote(note); note != "" {
		o.Note = []annotation{{Text: note}}
	}
	ref := w.add(id, o)
	w.written = append(w.written, ref)
	return []reference{ref}
}

// provenance says who wrote the visit and binds it to the digest of its last entry.
func (w *writer) provenance() {
	id := w.id("provenance")
	p := provenance{
		ResourceType: "Provenance", ID: id, Target: append([]reference{w.meeting}, w.written...), Recorded: instant(w.last()),
		Entity: []entity{{Role: "source", What: reference{Identifier: &identifier{System: systemDigest, Value: string(w.digest())}, Display: "SHA-256 of the last entry of the visit"}}},
	}
	act := func(code, display string, who reference) {
		p.Agent = append(p.Agent, agent{concept{Coding: []coding{{System: systemParticipant, Code: code, Display: display}}}, who})
	}
	authors, enterers := w.writers()
	for _, who := range authors {
		act("author", "Author", who)
	}
	for _, who := range enterers {
		act("enterer", "Enterer", who)
	}
	lines := []string{"written by " + filled(w.visit.By) + " and whoever is named beside an entry"}
	for _, r := range w.visit.Readings {
		if r.SignsOff() {
			act("verifier", "Verifier", w.vet(r.By))
		}
	}
	lines = append(lines, report.Readings(w.visit)...)
	w.section("Record", lines, []reference{w.add(id, p)})
}

// writers are who wrote the visit, each once, and who only typed in what papers say.
func (w *writer) writers() (authors, enterers []reference) {
	for _, e := range w.page.Entries {
		who := w.person(e.By)
		if e.Injection != nil && e.Injection.Phase == exam.InjectionNoted {
			if !slices.Contains(enterers, who) {
				enterers = append(enterers, who)
			}
		} else if !slices.Contains(authors, who) {
			authors = append(authors, who)
		}
	}
	for _, d := range w.visit.Decisions { // the decision is the veterinarian's own
		if who := w.vet(d.Vet); !slices.Contains(authors, who) {
			authors = append(authors, who)
		}
	}
	if len(authors) == 0 {
		authors = []reference{w.person(w.visit.By)}
	}
	return authors, enterers
}
