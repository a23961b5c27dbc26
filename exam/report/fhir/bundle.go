package fhir

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
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
	w.cautions()
	w.findings()
	w.notes()
	w.handOffs()
	w.takeOvers()
	w.injections()
	w.draws()
	w.followUps()
	w.provenance()
	b, err := w.bytes()
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
	doses    int       // past doses so far
	written  []reference
	decided  map[int]reference    // the communication of a decision, by its entry
	ordered  map[orderKey][]order // the requests that it made
}

func newWriter(p report.Page, j *judge.Judge) *writer {
	w := &writer{
		page: p, visit: p.Visit, judge: j, people: map[string]reference{}, remarks: map[exam.Key]exam.Remark{},
		decided: map[int]reference{}, ordered: map[orderKey][]order{},
	}
	w.visit.Findings = asWritten(w.visit.Findings)
	for _, r := range p.Verdict.Remarks {
		k := exam.Key{Step: r.Step, Site: r.Site}
		if old, ok := w.remarks[k]; !r.Combination && (!ok || r.Level > old.Level) {
			w.remarks[k] = r
		}
	}
	return w
}

// asWritten are findings with their numbers as they are written, so that words and numbers of the document agree.
func asWritten(list []exam.Finding) []exam.Finding {
	out := slices.Clone(list)
	for i, f := range out {
		if q := f.Value.Number; q != nil {
			out[i].Value.Number = &notation.Quantity{Value: rounded(q.Value), Unit: q.Unit}
		}
		out[i].Before, out[i].Differ = asWritten(f.Before), asWritten(f.Differ)
	}
	return out
}

// id is the same for the same part of the same visit, on every machine.
func (w *writer) id(part string) string {
	return uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:x-loosebox:visit:"+string(w.visit.ID)+":"+part)).String()
}

func (w *writer) add(id string, resource any) reference {
	w.entries = append(w.entries, entry{FullURL: "urn:uuid:" + id, Resource: resource})
	return reference{Reference: "urn:uuid:" + id}
}

// status is that of the composition: amended where something was written after closing.
func (w *writer) status() string {
	switch v := w.visit; {
	case !v.Stands():
		return inError
	case !v.Closed():
		return "preliminary"
	case w.amended():
		return "amended"
	}
	return "final"
}

// replaced is the identity of the document of the visit as it stood before the last line that was written after closing;
// false where there is none.
func (w *writer) replaced() (identifier, bool) {
	from := w.visit.From
	for i := len(w.page.Entries) - 1; i > 0; i-- {
		switch e := w.page.Entries[i]; {
		case e.Amend == nil || e.Reading != nil:
		case from != nil && i < from.Lines:
			return identifier{System: systemURI, Value: from.Replaces}, from.Replaces != ""
		case from != nil && i == from.Lines:
			return w.bundleID(from.Line), true
		default:
			return w.bundleID(w.page.Entries[i-1].Hash), true
		}
	}
	return identifier{}, false
}

// amended says that something was written after closing.
func (w *writer) amended() bool {
	return slices.ContainsFunc(w.page.Entries, func(e exam.Entry) bool { return e.Amend != nil && e.Reading == nil })
}

// bundleID is that of the document of a visit as it stood at a digest; it is never used again for another.
func (w *writer) bundleID(at exam.Hash) identifier {
	return identifier{System: systemURI, Value: "urn:uuid:" + w.id("bundle:"+string(at))}
}

// bundle puts the composition first, then the rest in the order it was made.
func (w *writer) bundle() bundle {
	v := w.visit
	id := w.id("composition")
	first := composition{
		ResourceType: "Composition", ID: id, Identifier: &identifier{System: systemURI, Value: "urn:uuid:" + w.visitID()}, Status: w.status(),
		Type:    concept{Coding: []coding{{System: systemLOINC, Code: "34117-2", Display: loinc["34117-2"]}}, Text: "Physical exam of a horse"},
		Subject: w.subject, Encounter: w.meeting, Date: instant(w.last()), Author: []reference{w.person(v.By)},
		Title: w.page.Title(), Attester: w.attesters(), Custodian: w.custodian(), Section: w.sections,
	}
	if old, ok := w.replaced(); ok {
		first.RelatesTo = []relation{{"replaces", old}}
	}
	first.Text = narrated(append([]string{w.page.Title(), "state: " + w.page.State()}, report.Readings(v)...))
	all := append([]entry{{FullURL: "urn:uuid:" + id, Resource: first}}, w.entries...)
	return bundle{
		ResourceType: "Bundle", Identifier: w.bundleID(w.digest()), Type: "document",
		Timestamp: instant(w.last()), Entry: append(all, w.authors...),
	}
}

// bytes are the document in JSON. A visit that was taken out of a document and says all of it again, to the byte, is that
// document; one that says anything else is another, known by what it says.
func (w *writer) bytes() ([]byte, error) {
	doc := w.bundle()
	b, err := json.Marshal(doc)
	from := w.visit.From
	if err != nil || from == nil && w.visit.Source == "" || from != nil && (w.digest() != from.Line || digestOf(b) == from.Document) {
		return b, err
	}
	doc.Identifier = identifier{}
	if b, err = json.Marshal(doc); err != nil {
		return nil, err
	}
	doc.Identifier = w.bundleID(digestOf(b))
	return json.Marshal(doc)
}

// digestOf is the SHA-256 of bytes.
func digestOf(b []byte) exam.Hash {
	sum := sha256.Sum256(b)
	return exam.Hash(hex.EncodeToString(sum[:]))
}

// digest binds the document to the record: that of the visit's last entry. A visit that was taken out of a document, and to
// which nothing was added since, is bound to the record that it was taken from.
func (w *writer) digest() exam.Hash {
	if from := w.visit.From; from != nil && from.Line != "" && len(w.page.Entries) <= from.Lines {
		return from.Line
	}
	return w.visit.Last
}

// visitID is the visit's own UUID; one made from its identity where that is no UUID.
func (w *writer) visitID() string {
	if id, err := uuid.Parse(string(w.visit.ID)); err == nil {
		return id.String()
	}
	return w.id("visit")
}

// last is when the last entry was written.
func (w *writer) last() time.Time {
	if n := len(w.page.Entries); n > 0 {
		return w.page.Entries[n-1].At
	}
	return w.visit.OpenedAt
}
