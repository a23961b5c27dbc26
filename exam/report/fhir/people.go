package fhir

import (
	"strings"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// person is the Practitioner of a name, made at its first mention: the same one in every document of the practice.
func (w *writer) person(who string) reference {
	who = filled(who)
	key := strings.ToLower(notation.CleanLine(who, 0))
	if ref, ok := w.people[key]; ok {
		return ref
	}
	practice := strings.ToLower(notation.CleanLine(w.practice().Name, 0))
	id := uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:x-loosebox:practice:"+practice+":person:"+key)).String()
	ref := reference{Reference: "urn:uuid:" + id}
	w.authors = append(w.authors, entry{FullURL: ref.Reference, Resource: &practitioner{
		ResourceType: "Practitioner", ID: id, Identifier: []identifier{{System: systemURI, Value: ref.Reference}}, Name: []name{{Text: who}},
	}})
	w.people[key] = ref
	return ref
}

// practice is the one that recorded the visit.
func (w *writer) practice() exam.Letterhead {
	if from := w.visit.From; from != nil {
		return from.Practice
	}
	return w.page.Practice
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
	p := w.practice()
	if notation.CleanLine(p.Name, 0) == "" {
		return nil
	}
	id := uuid.NewSHA1(uuid.NameSpaceURL, []byte("urn:x-loosebox:practice:"+strings.ToLower(notation.CleanLine(p.Name, 0)))).String()
	o := organization{ResourceType: "Organization", ID: id, Name: filled(p.Name)}
	if p.Phone != "" {
		o.Telecom = []telecom{{"phone", filled(p.Phone)}}
	}
	if p.Address != "" {
		o.Address = []name{{Text: filled(p.Address)}}
	}
	ref := w.add(id, o)
	return &ref
}
