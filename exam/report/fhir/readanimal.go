package fhir

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func (r *reader) readPatient(res *resource) error {
	p, err := as[patient](res)
	if err != nil {
		return err
	}
	var h exam.Horse
	kind := ""
	for _, e := range p.Extension {
		if e.URL != extensionAnimal {
			continue
		}
		for _, part := range e.Extension {
			c := part.ValueCodeableConcept
			if c == nil {
				continue
			}
			switch part.URL {
			case "species":
				kind = c.words()
			case "breed":
				h.Breed = notation.CleanLine(c.words(), 0)
			case "genderStatus":
				h.Sex = sexOf(*c, p.Gender)
			}
		}
	}
	var ok bool
	if h.Kind, ok = animalNamed(kind); !ok {
		return fmt.Errorf("%q is no kind of horse, donkey or mule", notation.CleanLine(kind, 40))
	}
	for _, n := range p.Name {
		if h.Name == "" {
			h.Name = notation.CleanLine(n.words(), 0)
		}
	}
	if h.Name == "" {
		return errors.New("it has no name")
	}
	if h.Sex == "" {
		h.Sex = sexOf(concept{}, p.Gender)
	}
	h.Birth = birthOf(p.BirthDate, p.BornAt)
	identified(&h, p.Identifier)
	for _, c := range p.Contact {
		h.Owner = notation.CleanLine(c.Name.words(), 0)
		for _, t := range c.Telecom {
			h.OwnerPhone = notation.CleanLine(t.Value, 0)
		}
		if c.Address != nil {
			h.OwnerAddress = notation.CleanLine(c.Address.Text, 0)
		}
	}
	r.animals[res] = &ForeignAnimal{Horse: h}
	r.order = append(r.order, res)
	return nil
}

// identified sets what an animal is known by: its identity in this program, its chip, its UELN.
func identified(h *exam.Horse, list []identifier) {
	for _, i := range list {
		value := notation.CleanLine(i.Value, 0)
		var t concept
		if i.Type != nil {
			t = *i.Type
		}
		switch {
		case i.System == systemURI:
			if id, ok := isUUID(i.System, value); ok && i.Use == "official" && uuid.Validate(id) == nil {
				h.ID = exam.HorseID(id)
			}
		case i.System == systemUELN || strings.EqualFold(t.words(), "UELN"):
			h.UELN = value
		case i.System == systemChip || t.has("MCN"):
			if c, err := exam.ReadChip(value); err == nil {
				h.Chip = c
			}
		}
	}
}

// sexOf is the sex by this program's own word, or by what R4 has for it.
func sexOf(status concept, gender string) exam.Sex {
	if own := exam.Sex(status.Text); slices.Contains(exam.Sexes(), own) {
		return own
	}
	switch {
	case status.has("neutered"):
		return exam.Gelding
	case gender == "male":
		return exam.Stallion
	case gender == "female":
		return exam.Mare
	}
	return ""
}

// animal is whose a resource is.
func (r *reader) animal(ref reference) (*resource, *ForeignAnimal, error) {
	res := r.refers(ref)
	if a := r.animals[res]; res != nil && a != nil {
		return res, a, nil
	}
	return nil, nil, errors.New("its animal is not in the file")
}

// readFlag takes a caution, or a reaction of earlier, of an animal.
func (r *reader) readFlag(res *resource) error {
	f, err := as[flag](res)
	if err != nil {
		return err
	}
	_, a, err := r.animal(f.Subject)
	if err != nil {
		return err
	}
	text := notation.CleanLine(f.Code.words(), 0)
	if text == "" || f.Status != "active" && f.Status != inError {
		return errors.New("it is not active, or has no words")
	}
	if f.Status == inError {
		return nil // its visit says so
	}
	list := &a.Horse.Cautions
	if slices.ContainsFunc(f.Category, func(c concept) bool { return c.has("clinical") }) {
		list = &a.Horse.Reactions
	}
	*list = append(*list, text)
	return nil
}
