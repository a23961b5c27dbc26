package fhir

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// resource is one of a document, as it stands there.
type resource struct {
	kind, id, url string
	raw           json.RawMessage
}

// reader gathers what is understood of one document.
type reader struct {
	steps   *exam.Steps
	list    []*resource
	byURL   map[string]*resource
	animals map[*resource]*ForeignAnimal // by the Patient
	order   []*resource
	visits  map[string]*readVisit // by animal and encounter or day
	keys    []string
	of      map[string]*readVisit // by what the sections of its Composition name
	refused map[string]bool       // encounters of which nothing is taken, and what stands in their sections
	left    []string
	rest    []*resource // what was not taken
}

// Read takes a Bundle, or one resource, of FHIR R4: Patient, Flag, Observation and Immunization, and of a document its
// Composition. What it does not understand it lists. An error means that nothing of it can be read.
func Read(document []byte, steps *exam.Steps) (Foreign, error) {
	r := &reader{
		steps: steps, byURL: map[string]*resource{}, animals: map[*resource]*ForeignAnimal{}, visits: map[string]*readVisit{},
		of: map[string]*readVisit{}, refused: map[string]bool{},
	}
	if err := r.unpack(document); err != nil {
		return Foreign{}, fmt.Errorf("it is no JSON: %w", err)
	}
	takes := []struct {
		kind string
		take func(*resource) error
	}{
		{"Patient", r.readPatient},
		{"Flag", r.readFlag},
		{"Composition", r.readComposition},
		{"Observation", r.readObservation},
		{"Immunization", r.readImmunization},
	}
	for _, t := range takes {
		for _, res := range r.list {
			if res.kind != t.kind {
				continue
			}
			if err := t.take(res); err != nil {
				r.left = append(r.left, fmt.Sprintf("%s %s: %v", t.kind, notation.CleanLine(calledBy(res), 60), err))
				r.rest = append(r.rest, res)
			}
		}
	}
	r.skip()
	f := r.foreign(document)
	var err error
	f.Rest, err = r.bundleOfRest()
	return f, err
}

// unpack lists the resources of a Bundle, or the one that the document is.
func (r *reader) unpack(document []byte) error {
	var top struct {
		ResourceType, ID string
		Entry            []struct {
			FullURL  string          `json:"fullUrl"`
			Resource json.RawMessage `json:"resource"`
		} `json:"entry"`
	}
	if err := json.Unmarshal(document, &top); err != nil {
		return err
	}
	if top.ResourceType != "Bundle" {
		r.list = append(r.list, &resource{kind: top.ResourceType, id: top.ID, raw: document})
	}
	for _, e := range top.Entry {
		var head struct{ ResourceType, ID string }
		if json.Unmarshal(e.Resource, &head) == nil && head.ResourceType != "" {
			r.list = append(r.list, &resource{head.ResourceType, head.ID, e.FullURL, e.Resource})
		}
	}
	for _, res := range r.list {
		for _, url := range []string{res.url, res.kind + "/" + res.id, "urn:uuid:" + res.id} {
			if url != "" {
				r.byURL[url] = res
			}
		}
	}
	return nil
}

// as reads a resource into its type; it is empty for none, and where R4 does not allow its form.
func as[T any](res *resource) (T, error) {
	var v T
	if res == nil {
		return v, nil
	}
	if err := json.Unmarshal(res.raw, &v); err != nil {
		var none T
		return none, fmt.Errorf("R4 does not allow its form")
	}
	return v, nil
}

// behind are the kinds that only say more of others; the rest is not read.
var behind = []string{"Patient", "Flag", "Observation", "Immunization", "Composition", "Encounter", "Practitioner", "Organization"}

// skip lists the kinds that are not read.
func (r *reader) skip() {
	skipped := map[string]int{}
	for _, res := range r.list {
		p, _ := as[provenance](res)
		if slices.Contains(behind, res.kind) || res.kind == "Provenance" && p.Activity == nil {
			continue
		}
		skipped[notation.CleanLine(res.kind, 40)]++
		r.rest = append(r.rest, res)
	}
	for _, kind := range sorted(skipped) {
		r.left = append(r.left, fmt.Sprintf("%d of the kind %s: not read", skipped[kind], kind))
	}
}

// bundleOfRest is a Bundle of what was not taken, after the Patients that it may be of.
func (r *reader) bundleOfRest() ([]byte, error) {
	if len(r.rest) == 0 {
		return nil, nil
	}
	type entry struct {
		FullURL  string          `json:"fullUrl,omitempty"`
		Resource json.RawMessage `json:"resource"`
	}
	out := struct {
		ResourceType string  `json:"resourceType"`
		Type         string  `json:"type"`
		Entry        []entry `json:"entry"`
	}{ResourceType: "Bundle", Type: "collection"}
	for _, res := range r.list {
		if res.kind == "Patient" && !slices.Contains(r.rest, res) {
			out.Entry = append(out.Entry, entry{res.url, res.raw})
		}
	}
	for _, res := range r.rest {
		out.Entry = append(out.Entry, entry{res.url, res.raw})
	}
	b, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("what was not taken cannot be written: %w", err)
	}
	return b, nil
}

// refers is the resource of the document that a reference names; nil for none.
func (r *reader) refers(ref reference) *resource {
	return r.byURL[ref.Reference]
}

// person is the name behind a reference.
func (r *reader) person(ref reference) string {
	if words := notation.CleanLine(ref.Display, 0); words != "" {
		return words
	}
	p, _ := as[practitioner](r.refers(ref))
	for _, n := range p.Name {
		if words := notation.CleanLine(n.words(), 0); words != "" {
			return words
		}
	}
	return ""
}

func moment(text string) time.Time {
	at, _ := time.Parse(time.RFC3339, text) // zero where it is none
	return at
}

func isUUID(system, value string) (string, bool) {
	id, ok := strings.CutPrefix(value, "urn:uuid:")
	return id, ok && system == systemURI
}
