package fhir

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/gs1"
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

func (r *reader) readPatient(res map[string]any) error {
	var h exam.Horse
	kind := ""
	for _, e := range objects(res["extension"]) {
		if e["url"] != extensionAnimal {
			continue
		}
		for _, part := range objects(e["extension"]) {
			c, _ := part["valueCodeableConcept"].(map[string]any)
			switch part["url"] {
			case "species":
				kind = conceptText(c)
			case "breed":
				h.Breed = notation.CleanLine(conceptText(c), 0)
			case "genderStatus":
				if hasCode(c, "neutered") {
					h.Sex = exam.Gelding
				}
			}
		}
	}
	var ok bool
	if h.Kind, ok = animalNamed(kind); !ok {
		return fmt.Errorf("%q is no kind of horse, donkey or mule", notation.CleanLine(kind, 40))
	}
	for _, n := range objects(res["name"]) {
		if h.Name == "" {
			h.Name = notation.CleanLine(nameText(n), 0)
		}
	}
	if h.Name == "" {
		return fmt.Errorf("it has no name")
	}
	switch {
	case h.Sex == exam.Gelding || h.Sex != "" && h.Sex != exam.SexUnknown:
	case res["gender"] == "male":
		h.Sex = exam.Stallion
	case res["gender"] == "female":
		h.Sex = exam.Mare
	}
	h.Birth = birthOf(str(res["birthDate"]))
	for _, i := range objects(res["identifier"]) {
		value, system := notation.CleanLine(str(i["value"]), 0), str(i["system"])
		t, _ := i["type"].(map[string]any)
		switch {
		case system == systemURI:
			if id, err := uuid.Parse(strings.TrimPrefix(value, "urn:uuid:")); err == nil && i["use"] == "official" {
				h.ID = exam.HorseID(id.String())
			}
		case system == systemUELN || strings.EqualFold(conceptText(t), "UELN"):
			h.UELN = value
		case system == systemChip || hasCode(t, "MCN"):
			if c, err := exam.ReadChip(value); err == nil {
				h.Chip = c
			}
		}
	}
	for _, c := range objects(res["contact"]) {
		n, _ := c["name"].(map[string]any)
		h.Owner = notation.CleanLine(nameText(n), 0)
		for _, t := range objects(c["telecom"]) {
			h.OwnerPhone = notation.CleanLine(str(t["value"]), 0)
		}
		if a, ok := c["address"].(map[string]any); ok {
			h.OwnerAddress = notation.CleanLine(str(a["text"]), 0)
		}
	}
	url := "Patient/" + str(res["id"])
	r.animals[url] = &ForeignAnimal{Horse: h}
	r.order = append(r.order, url)
	return nil
}

// animal is whose a resource is.
func (r *reader) animal(ref any) (string, *ForeignAnimal, error) {
	m, _ := ref.(map[string]any)
	if res := r.byURL[str(m["reference"])]; res != nil {
		url := "Patient/" + str(res["id"])
		if a := r.animals[url]; a != nil {
			return url, a, nil
		}
	}
	return "", nil, fmt.Errorf("its animal is not in the file")
}

// readFlag takes a caution, or a reaction of earlier, of an animal.
func (r *reader) readFlag(res map[string]any) error {
	_, a, err := r.animal(res["subject"])
	if err != nil {
		return err
	}
	code, _ := res["code"].(map[string]any)
	text := notation.CleanLine(conceptText(code), 0)
	if res["status"] != "active" || text == "" {
		return fmt.Errorf("it is not active, or has no words")
	}
	for _, c := range objects(res["category"]) {
		if hasCode(c, "clinical") {
			a.Horse.Reactions = append(a.Horse.Reactions, text)
			return nil
		}
	}
	a.Horse.Cautions = append(a.Horse.Cautions, text)
	return nil
}

// packageOf is what is said of the package of a vaccine beside its lot: maker, expiry, item number and serial.
func packageOf(res, vaccine map[string]any, o *exam.Order) {
	if m, ok := res["manufacturer"].(map[string]any); ok {
		o.Maker = notation.CleanLine(str(m["display"]), 0)
	}
	if day := str(res["expirationDate"]); day != "" {
		o.Expiry, _ = notation.ReadExpiry(day) // one that cannot be read is not known
	}
	for _, c := range objects(vaccine["coding"]) {
		if item, ok := gs1.ItemNumber(str(c["code"])); ok && c["system"] == systemItem {
			o.Item = item
		}
	}
	for _, e := range objects(res["extension"]) {
		if e["url"] == extensionSerial {
			o.Serial = notation.CleanLine(str(e["valueString"]), 0)
		}
	}
}

func (r *reader) readImmunization(res map[string]any) error {
	_, a, err := r.animal(res["patient"])
	if err != nil {
		return err
	}
	if status := str(res["status"]); status != "completed" || res["isSubpotent"] == true {
		return fmt.Errorf("it is %s, or not the whole dose, and no past dose", notation.CleanLine(status, 30))
	}
	vaccine, _ := res["vaccineCode"].(map[string]any)
	o := exam.Order{Product: notation.CleanLine(conceptText(vaccine), 0), Lot: notation.CleanLine(str(res["lotNumber"]), 0)}
	packageOf(res, vaccine, &o)
	for _, p := range objects(res["protocolApplied"]) {
		for _, d := range objects(p["targetDisease"]) {
			key, ok := due.KeyNamed(conceptText(d))
			if !ok {
				return fmt.Errorf("it is against %q, which the schedule does not have", notation.CleanLine(conceptText(d), 40))
			}
			if !slices.Contains(o.Against, key) {
				o.Against = append(o.Against, key)
			}
		}
	}
	on := str(res["occurrenceDateTime"])
	if len(on) > 10 {
		on = on[:10]
	}
	switch {
	case len(o.Against) == 0:
		return fmt.Errorf("it does not say against what")
	case !partialDate(on):
		return fmt.Errorf("its day is not known")
	}
	basis := "another system"
	if c, ok := res["reportOrigin"].(map[string]any); ok {
		basis = conceptText(c) + ", by another system"
	}
	a.Doses = append(a.Doses, exam.InjectionLine{Phase: exam.InjectionNoted, On: on, Basis: notation.CleanLine(basis, 0), Order: &o})
	return nil
}
