package fhir

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// draws writes a Procedure for each draw and a Specimen for each tube.
func (w *writer) draws() {
	var lines []string
	var refs []reference
	for _, d := range w.visit.Draws {
		id := w.id(fmt.Sprintf("draw:%d", d.Number))
		p := procedure{
			ResourceType: "Procedure", ID: id, Status: "in-progress", Code: text("Blood draw"), Subject: w.subject, Encounter: w.meeting,
			PerformedPeriod: period{Start: instant(d.At)}, Performer: []performer{{w.person(d.By)}}, ReasonCode: []concept{text(d.Order.For)},
		}
		switch {
		case d.State == exam.DrawDone:
			p.Status = "completed"
		case d.State == exam.DrawStopped && len(d.Filled) == 0:
			p.Status = "not-done"
		case d.State == exam.DrawStopped:
			p.Status = "stopped"
		}
		if !w.visit.Stands() {
			p.Status = inError
		}
		if ref := w.requestOf(d.Order.Decision, exam.Drawing, ""); ref != nil {
			p.BasedOn = []reference{*ref}
		}
		if d.EndAt != nil {
			p.PerformedPeriod.End = instant(*d.EndAt)
		}
		var site *concept
		for _, s := range d.Sticks {
			site = textPointer(s.Place.String())
			p.BodySite = append(p.BodySite, *site)
		}
		if d.SignWords != "" || d.Why != "" {
			p.Note = []annotation{{Text: notation.CleanNote(strings.TrimSpace(d.SignWords + " " + d.Why.String()))}}
		}
		refs = append(refs, w.add(id, p))
		refs = append(refs, w.tubes(d, site)...)
		lines = append(lines, fmt.Sprintf("blood draw for %s: %s, %d tubes", d.Order.For, d.State, len(d.Filled)))
	}
	w.written = append(w.written, refs...)
	w.section("Blood draws", lines, refs)
}

func (w *writer) tubes(d exam.Draw, site *concept) []reference {
	var refs []reference
	for n, t := range d.Filled {
		id := w.id(fmt.Sprintf("tube:%d:%d", d.Number, n))
		s := specimen{
			ResourceType: "Specimen", ID: id, Type: text("blood"), Subject: w.subject, Container: []container{{text(string(t.Kind))}},
			Collection: collection{Collector: w.person(d.By), CollectedDateTime: instant(w.filledAt(d, t)), Quantity: millilitres(t.ML), BodySite: site},
		}
		if t.Label != "" {
			s.Note = []annotation{{Text: notation.CleanNote("label: " + t.Label)}}
		}
		if t.Short {
			s.Note = append(s.Note, annotation{Text: "not filled as it must be"})
		}
		refs = append(refs, w.add(id, s))
	}
	return refs
}

// filledAt is when a tube was filled.
func (w *writer) filledAt(d exam.Draw, t exam.Filled) time.Time {
	for _, e := range w.page.Entries {
		if e.Seq == t.Seq {
			return e.At
		}
	}
	return d.At
}
