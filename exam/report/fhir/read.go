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

// Foreign is what was understood of a FHIR document, by animal, and what was not, each with its reason.
type Foreign struct {
	Animals []ForeignAnimal
	Left    []string
	// Rest is a Bundle of what was not taken, with every Patient, to be corrected and read again; nil where all was.
	Rest []byte
}

// ForeignAnimal is an animal with the findings of each of its visits, oldest first, and its vaccinations as past doses.
type ForeignAnimal struct {
	Horse  exam.Horse
	Visits []ForeignVisit
	Doses  []exam.InjectionLine
}

// ForeignVisit is findings of one encounter, or of one day where they name none.
type ForeignVisit struct {
	ID      exam.VisitID // of the document that it stands in; empty where that has none
	At      time.Time
	End     time.Time // zero where it is not said
	Reason  string    // why the animal was seen
	By      string
	Entries []exam.Entry // findings and steps not done, each with its own time and name
}

type reader struct {
	steps   *exam.Steps
	byURL   map[string]map[string]any
	animals map[string]*ForeignAnimal // by the address of the Patient
	order   []string
	visits  map[string]*ForeignVisit // by animal and encounter or day
	keys    []string
	left    []string
	rest    []map[string]any // what was not taken
}

// Read takes a Bundle, or one resource, of FHIR R4: Patient, Flag, Observation and Immunization. What it does not understand it
// lists. An error means that nothing of it can be read.
func Read(document []byte, steps *exam.Steps) (Foreign, error) {
	var top map[string]any
	if err := json.Unmarshal(document, &top); err != nil {
		return Foreign{}, fmt.Errorf("it is no JSON: %w", err)
	}
	r := &reader{steps: steps, byURL: map[string]map[string]any{}, animals: map[string]*ForeignAnimal{}, visits: map[string]*ForeignVisit{}}
	list := []map[string]any{top}
	if top["resourceType"] == "Bundle" {
		list = nil
		for _, e := range objects(top["entry"]) {
			if res, ok := e["resource"].(map[string]any); ok {
				list = append(list, res)
				r.byURL[str(e["fullUrl"])] = res
			}
		}
	}
	for _, res := range list {
		r.byURL[str(res["resourceType"])+"/"+str(res["id"])] = res
		r.byURL["urn:uuid:"+str(res["id"])] = res
	}
	skipped := map[string]int{}
	for _, pass := range []string{"Patient", "Flag", "Observation", "Immunization"} {
		for _, res := range list {
			if res["resourceType"] == pass {
				r.take(pass, res)
			}
		}
	}
	for _, res := range list {
		switch kind := str(res["resourceType"]); kind {
		case "Patient", "Flag", "Observation", "Immunization", "Composition", "Encounter", "Practitioner", "Provenance", "Organization":
		default:
			skipped[notation.CleanLine(kind, 40)]++
			r.rest = append(r.rest, res)
		}
	}
	for _, kind := range sorted(skipped) {
		r.left = append(r.left, fmt.Sprintf("%d of the kind %s: not read", skipped[kind], kind))
	}
	f := r.foreign()
	var err error
	f.Rest, err = r.bundleOfRest(list)
	return f, err
}

// bundleOfRest is a Bundle of what was not taken, after the Patients that it may be of.
func (r *reader) bundleOfRest(list []map[string]any) ([]byte, error) {
	if len(r.rest) == 0 {
		return nil, nil
	}
	type entry struct {
		Resource map[string]any `json:"resource"`
	}
	out := struct {
		ResourceType string  `json:"resourceType"`
		Type         string  `json:"type"`
		Entry        []entry `json:"entry"`
	}{ResourceType: "Bundle", Type: "collection"}
	left := func(res map[string]any) bool {
		return slices.ContainsFunc(r.rest, func(o map[string]any) bool {
			return str(o["id"]) == str(res["id"]) && o["resourceType"] == res["resourceType"]
		})
	}
	for _, res := range list {
		if res["resourceType"] == "Patient" && !left(res) {
			out.Entry = append(out.Entry, entry{res})
		}
	}
	for _, res := range r.rest {
		out.Entry = append(out.Entry, entry{res})
	}
	b, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("what was not taken cannot be written: %w", err)
	}
	return b, nil
}

func (r *reader) foreign() Foreign {
	f := Foreign{Left: r.left}
	for _, key := range r.keys {
		url, _, _ := strings.Cut(key, "\x00")
		a := r.animals[url]
		a.Visits = append(a.Visits, *r.visits[key])
	}
	for _, url := range r.order {
		a := r.animals[url]
		slices.SortStableFunc(a.Visits, func(x, y ForeignVisit) int { return x.At.Compare(y.At) })
		f.Animals = append(f.Animals, *a)
	}
	return f
}

func (r *reader) take(kind string, res map[string]any) {
	var err error
	switch kind {
	case "Patient":
		err = r.readPatient(res)
	case "Flag":
		err = r.readFlag(res)
	case "Observation":
		err = r.readObservation(res)
	case "Immunization":
		err = r.readImmunization(res)
	}
	if err != nil {
		r.left = append(r.left, fmt.Sprintf("%s %s: %v", kind, notation.CleanLine(calledBy(res), 60), err))
		r.rest = append(r.rest, res)
	}
}

// calledBy is how a resource is called in the list of what was left.
func calledBy(res map[string]any) string {
	for _, key := range []string{"code", "vaccineCode"} {
		if c, ok := res[key].(map[string]any); ok {
			if text := conceptText(c); text != "" {
				return text
			}
		}
	}
	return str(res["id"])
}
