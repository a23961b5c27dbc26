package fhir

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
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
	w.cautions()
	w.findings()
	w.handOffs()
	w.injections()
	w.draws()
	w.followUps()
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
	decided  map[int]reference    // the communication of a decision, by its entry
	ordered  map[orderKey][]order // the requests that it made
	said     exam.Hash            // digest of what is said of a visit from elsewhere
}

func newWriter(p report.Page, j *judge.Judge) *writer {
	w := &writer{
		page: p, visit: p.Visit, judge: j, people: map[string]reference{}, remarks: map[exam.Key]exam.Remark{},
		decided: map[int]reference{}, ordered: map[orderKey][]order{},
	}
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

// person is the Practitioner of a name, made at its first mention: the same one in every document of the practice.
func (w *writer) person(who string) reference {
	who = filled(who)
	key := strings.ToLower(notation.CleanLine(who, 0))
	if ref, ok := w.people[key]; ok {
		return ref
	}
	practice := strings.ToLower(notation.CleanLine(w.page.Practice.Name, 0))
	id := uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:x-loosebox:practice:"+practice+":person:"+key)).String()
	ref := reference{Reference: "urn:uuid:" + id}
	w.authors = append(w.authors, entry{FullURL: ref.Reference, Resource: &practitioner{
		ResourceType: "Practitioner", ID: id, Identifier: []identifier{{System: systemURI, Value: ref.Reference}}, Name: []name{{who}},
	}})
	w.people[key] = ref
	return ref
}

// vet is the Practitioner of a veterinarian.
func (w *writer) vet(who string) reference {
	ref := w.person(who)
	for _, e := range w.authors {
		if p, ok := e.Resource.(*practitioner); ok && e.FullURL == ref.Reference && len(p.Qualification) == 0 {
			p.Qualification = []qualification{{text("veterinarian")}}
		}
	}
	return ref
}

// status is that of the composition: amended where something was written after closing.
func (w *writer) status() string {
	switch v := w.visit; {
	case !v.Stands():
		return inError
	case !v.Closed():
		return "preliminary"
	case w.before() != "":
		return "amended"
	}
	return "final"
}

// before is the digest of the visit as it stood before the last line that was written after closing; empty for none.
func (w *writer) before() exam.Hash {
	for i := len(w.page.Entries) - 1; i > 0; i-- {
		if e := w.page.Entries[i]; e.Amend != nil && e.Reading == nil {
			return w.page.Entries[i-1].Hash
		}
	}
	return ""
}

// bundleID is that of the document of a visit as it stood at a digest; it is never used again for another.
func (w *writer) bundleID(at exam.Hash) identifier {
	return identifier{System: systemURI, Value: "urn:uuid:" + w.id("bundle:"+string(at))}
}

// attesters are who signed: the one who closed the visit, and veterinarians who read it.
func (w *writer) attesters() []attester {
	var out []attester
	for _, e := range w.page.Entries {
		if e.Kind == exam.EntryClosed {
			out = append(out, attester{"professional", instant(e.At), w.person(e.By)})
		}
	}
	for _, r := range w.visit.Readings {
		if r.SignsOff() {
			out = append(out, attester{"professional", instant(r.At), w.vet(r.By)})
		}
	}
	return out
}

// custodian is the practice that keeps the record; nil where it has no name.
func (w *writer) custodian() *reference {
	p := w.page.Practice
	if notation.CleanLine(p.Name, 0) == "" {
		return nil
	}
	id := uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:x-loosebox:practice:"+strings.ToLower(notation.CleanLine(p.Name, 0)))).String()
	o := organization{ResourceType: "Organization", ID: id, Name: filled(p.Name)}
	if p.Phone != "" {
		o.Telecom = []telecom{{"phone", filled(p.Phone)}}
	}
	if p.Address != "" {
		o.Address = []name{{filled(p.Address)}}
	}
	ref := w.add(id, o)
	return &ref
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
	if at := w.before(); at != "" {
		first.RelatesTo = []relation{{"replaces", w.bundleID(at)}}
	}
	first.Text = narrated(append([]string{w.page.Title(), "state: " + w.page.State()}, report.Readings(v)...))
	all := append([]entry{{FullURL: "urn:uuid:" + id, Resource: first}}, w.entries...)
	return bundle{
		ResourceType: "Bundle", Identifier: w.bundleID(w.digest()), Type: "document",
		Timestamp: instant(w.last()), Entry: append(all, w.authors...),
	}
}

// digest binds the document to the record: that of the visit's last entry. A visit that was taken from elsewhere was not
// written here, and its entries say when it was taken; then it is that of what the document says, which stays the same
// wherever it is taken to.
func (w *writer) digest() exam.Hash {
	if w.visit.Source == "" {
		return w.visit.Last
	}
	if w.said == "" {
		b, _ := json.Marshal(w.entries) // they are marshalled whole a little later, with their error
		sum := sha256.Sum256(b)
		w.said = exam.Hash(hex.EncodeToString(sum[:]))
	}
	return w.said
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
