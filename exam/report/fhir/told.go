package fhir

import (
	"cmp"
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// handOffs writes each hand-off as a Communication from who called to the veterinarian, each decision as one that answers
// it, and what a decision orders as requests.
func (w *writer) handOffs() {
	var lines []string
	var refs []reference
	var last *reference
	for _, h := range w.visit.HandOffs {
		id := w.id(fmt.Sprintf("hand-off:%d", h.Seq))
		c := w.communication(id, h.At, w.person(h.By), w.vet(h.To), h.How, h.Asked)
		c.About = w.flagged()
		ref := w.add(id, c)
		last, refs = &ref, append(refs, ref)
		lines = append(lines, fmt.Sprintf("handed off to %s, %s: %s", h.To, h.How, h.Asked))
	}
	for _, d := range w.visit.Decisions {
		id := w.id(fmt.Sprintf("decision:%d", d.Seq))
		c := w.communication(id, d.At, w.vet(d.Vet), w.person(d.By), d.How, fmt.Sprintf("%s: %s", d.Ruling, d.Words))
		if last != nil {
			c.InResponseTo = []reference{*last}
		}
		if d.Corrected {
			c.Status = inError
		}
		ref := w.add(id, c)
		w.decided[d.Seq] = ref
		refs = append(refs, ref)
		lines = append(lines, fmt.Sprintf("%s, %s: %s: %q", d.Vet, d.How, d.Ruling, d.Words))
		if d.Ruling == exam.GoAhead && !d.Corrected {
			refs = append(refs, w.orders(d)...)
		}
	}
	w.written = append(w.written, refs...)
	w.section("Hand-off and decision", lines, refs)
}

// takeOvers says which laptop puts the needles in from when on, and who was asked whether one is in there.
func (w *writer) takeOvers() {
	var lines []string
	var refs []reference
	for n, t := range w.visit.Taken {
		line := fmt.Sprintf("%s, another laptop: %s puts the needles in from here on; asked: %s", instant(t.At), t.By, cmp.Or(t.From, "nobody"))
		id := w.id(fmt.Sprintf("taken:%d", n))
		refs = append(refs, w.add(id, provenance{
			ResourceType: "Provenance", ID: id, Target: []reference{w.meeting}, Recorded: instant(t.At), Activity: textPointer(line),
			Agent: []agent{{concept{Coding: []coding{{System: systemParticipant, Code: "performer", Display: "Performer"}}}, w.person(t.By)}},
		}))
		lines = append(lines, line)
	}
	w.section("Needles taken over", lines, refs)
}

func (w *writer) communication(id string, at time.Time, from, to reference, how exam.Means, words string) communication {
	c := communication{
		ResourceType: "Communication", ID: id, Status: "completed",
		Category: []concept{{Coding: []coding{{System: systemCommunication, Code: "notification", Display: "Notification"}}}},
		Subject:  w.subject, Encounter: w.meeting, Sent: instant(at), Sender: from, Recipient: []reference{to},
		Payload: []payload{{filled(words)}},
	}
	if !w.visit.Stands() {
		c.Status = inError
	}
	if how != "" {
		c.Medium = []concept{text(how.String())}
	}
	return c
}

// flagged are the observations at the level recheck or above: what a hand-off is about.
func (w *writer) flagged() []reference {
	var out []reference
	for _, f := range w.visit.Findings {
		if r, ok := w.remarks[f.Key()]; ok && r.Level >= ranges.LevelRecheck {
			for n := range inOrder(f) {
				out = append(out, reference{Reference: "urn:uuid:" + w.findingID(f, n)})
			}
		}
	}
	return out
}

// orders are the requests of a go-ahead: a MedicationRequest for an injection, a ServiceRequest for a draw.
func (w *writer) orders(d exam.Decided) []reference {
	var refs []reference
	for n, c := range d.Covers {
		id := w.id(fmt.Sprintf("order:%d:%d", d.Seq, n))
		var ref reference
		if c.Kind == exam.Injecting {
			ref = w.add(id, medicationRequest{
				ResourceType: "MedicationRequest", ID: id, Status: w.active(), Intent: "order", MedicationCodeableConcept: text(c.Product), Subject: w.subject,
				Encounter: w.meeting, AuthoredOn: instant(d.At), Requester: w.vet(d.Vet), DosageInstruction: []instruction{{filled(c.Text())}},
			})
		} else {
			ref = w.add(id, serviceRequest{
				ResourceType: "ServiceRequest", ID: id, Status: w.active(), Intent: "order", Code: text("Blood draw"), Subject: w.subject, Encounter: w.meeting,
				AuthoredOn: instant(d.At), Requester: w.vet(d.Vet), ReasonCode: concepts(c.For),
			})
		}
		w.ordered[orderKey{d.Seq, c.Kind}] = append(w.ordered[orderKey{d.Seq, c.Kind}], order{ref, c})
		refs = append(refs, ref)
	}
	return refs
}

// active is the status of a request of this visit.
func (w *writer) active() string {
	if !w.visit.Stands() {
		return inError
	}
	return "active"
}

type orderKey struct {
	decision int
	kind     exam.ProcedureKind
}

// order is a request with what it covers.
type order struct {
	ref   reference
	cover exam.CoveredProcedure
}

// requestOf is the request that a procedure rests on; nil where no decision named it.
func (w *writer) requestOf(decision int, kind exam.ProcedureKind, product string) *reference {
	for _, o := range w.ordered[orderKey{decision, kind}] {
		if kind == exam.Drawing || exam.ProductKey(o.cover.Product) == exam.ProductKey(product) {
			ref := o.ref
			return &ref
		}
	}
	return nil
}

// followUps are what is looked at again, as plans.
func (w *writer) followUps() {
	var lines []string
	var refs []reference
	for n, r := range w.visit.Rechecks {
		id := w.id(fmt.Sprintf("follow-up:%d:%d", r.Seq, n))
		at := r.On
		if r.Time != nil {
			at = instant(*r.Time)
		}
		refs = append(refs, w.add(id, serviceRequest{
			ResourceType: "ServiceRequest", ID: id, Status: w.active(), Intent: "plan", Code: text(r.What), Subject: w.subject, Encounter: w.meeting,
			OccurrenceDateTime: at, AuthoredOn: instant(r.At), Requester: w.person(r.By),
		}))
		lines = append(lines, r.ISO()+": "+r.What)
	}
	w.written = append(w.written, refs...)
	w.section("Follow-ups", lines, refs)
}

// cautions are what to fear of the animal and what it reacted to, as Flags.
func (w *writer) cautions() {
	var lines []string
	var refs []reference
	add := func(category, display string, list []string) {
		for _, c := range list {
			if c = notation.CleanLine(c, 0); c == "" {
				continue
			}
			id := w.id("flag:" + category + ":" + strings.ToLower(c))
			refs = append(refs, w.add(id, flag{
				ResourceType: "Flag", ID: id, Status: w.flagStatus(), Category: []concept{{Coding: []coding{{System: systemFlag, Code: category, Display: display}}}},
				Code: text(c), Subject: w.subject, Encounter: w.meeting,
			}))
			lines = append(lines, c)
		}
	}
	add("safety", "Safety", once(w.visit.Horse.Cautions))
	add("clinical", "Clinical", once(w.visit.Horse.Reactions))
	w.section("Cautions and earlier reactions", lines, refs)
}

func (w *writer) flagStatus() string {
	if !w.visit.Stands() {
		return inError
	}
	return "active"
}

// once is a list without repeats, whatever their case.
func once(list []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, s := range list {
		if key := strings.ToLower(notation.CleanLine(s, 0)); !seen[key] {
			seen[key] = true
			out = append(out, s)
		}
	}
	return out
}

func concepts(words string) []concept {
	if c := textPointer(words); c != nil {
		return []concept{*c}
	}
	return nil
}
