package fhir

import (
	"encoding/json"
	"fmt"
	"html"
	"strings"
	"time"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/report"
)

// Document writes a visit as the bytes of a document Bundle, and checks it by the
// rules of Check before it is handed out.
func Document(p report.Page, j *judge.Judge) ([]byte, error) {
	w := newWriter(p, j)
	w.patient()
	w.encounter()
	w.findings()
	w.injections()
	w.draws()
	w.provenance()
	b, err := json.Marshal(w.bundle())
	if err != nil {
		return nil, fmt.Errorf("the visit cannot be written as FHIR: %w", err)
	}
	if err := Check(b); err != nil {
		return nil, fmt.Errorf("the visit was not written as FHIR, because what came out breaks a rule: %w", err)
	}
	return b, nil
}

// writer gathers the resources of one visit.
type writer struct {
	page     report.Page
	visit    exam.Visit
	judge    *judge.Judge
	remarks  map[exam.Key]exam.Remark
	entries  []entry
	people   map[string]reference
	authors  []entry
	sections []section
	subject  reference
	meeting  reference // the encounter
	written  []reference
}

func newWriter(p report.Page, j *judge.Judge) *writer {
	w := &writer{page: p, visit: p.Visit, judge: j, people: map[string]reference{}, remarks: map[exam.Key]exam.Remark{}}
	for _, r := range p.Verdict.Remarks {
		k := exam.Key{Step: r.Step, Site: r.Site}
		if old, ok := w.remarks[k]; !r.Combination && (!ok || r.Level > old.Level) {
			w.remarks[k] = r
		}
	}
	return w
}

// id is the same for the same part of the same visit, on every machine.
func (w *writer) id(part string) string {
	return uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:x-loosebox:visit:"+string(w.visit.ID)+":"+part)).String()
}

func (w *writer) add(id string, resource any) reference {
	w.entries = append(w.entries, entry{FullURL: "urn:uuid:" + id, Resource: resource})
	return reference{Reference: "urn:uuid:" + id}
}

// person is the Practitioner of a name, made at its first mention.
func (w *writer) person(who string) reference {
	who = filled(who)
	if ref, ok := w.people[who]; ok {
		return ref
	}
	id := w.id("person:" + who)
	ref := reference{Reference: "urn:uuid:" + id}
	w.authors = append(w.authors, entry{FullURL: ref.Reference, Resource: practitioner{"Practitioner", id, []name{{who}}}})
	w.people[who] = ref
	return ref
}

// bundle puts the composition first, then the rest in the order it was made.
func (w *writer) bundle() bundle {
	v := w.visit
	status := "preliminary"
	if v.Closed() {
		status = "final"
	}
	if !v.Stands() {
		status = inError
	}
	id := w.id("composition")
	first := composition{
		ResourceType: "Composition", ID: id, Status: status,
		Type:    concept{Coding: []coding{{systemLOINC, "29545-1", loinc["29545-1"]}}, Text: "Physical exam of a horse"},
		Subject: w.subject, Encounter: w.meeting, Date: instant(w.last()), Author: []reference{w.person(v.By)},
		Title: w.page.Title(), Section: w.sections,
	}
	all := append([]entry{{FullURL: "urn:uuid:" + id, Resource: first}}, w.entries...)
	return bundle{
		ResourceType: "Bundle", Identifier: identifier{"urn:ietf:rfc:3986", "urn:uuid:" + w.id("bundle")}, Type: "document",
		Timestamp: instant(w.last()), Entry: append(all, w.authors...),
	}
}

// last is when the last entry was written.
func (w *writer) last() time.Time {
	if n := len(w.page.Entries); n > 0 {
		return w.page.Entries[n-1].At
	}
	return w.visit.OpenedAt
}

// section adds a part of the document with its resources and the same in words.
func (w *writer) section(title string, lines []string, refs []reference) {
	if len(lines)+len(refs) == 0 {
		return
	}
	s := section{Title: title, Entry: refs}
	if len(lines) > 0 {
		var b strings.Builder
		b.WriteString(`<div xmlns="http://www.w3.org/1999/xhtml">`)
		for _, l := range lines {
			b.WriteString("<p>" + html.EscapeString(notation.CleanNote(l)) + "</p>")
		}
		s.Text = &narrative{Status: "generated", Div: b.String() + "</div>"}
	}
	w.sections = append(w.sections, s)
}

// instant is a moment with its offset, as R4's dateTime and instant ask.
func instant(t time.Time) string { return t.Format(time.RFC3339) }

// filled is a text made safe; R4 allows no empty one.
func filled(s string) string {
	if s = notation.CleanNote(s); s != "" {
		return s
	}
	return "not known"
}

func text(s string) concept { return concept{Text: filled(s)} }

func textPointer(s string) *concept {
	if s = notation.CleanNote(s); s == "" {
		return nil
	}
	return &concept{Text: s}
}
