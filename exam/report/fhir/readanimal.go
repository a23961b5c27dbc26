package fhir

import (
	"fmt"
	"strings"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/notation"
)

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
