package report

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Rabies is the key of rabies in the schedule.
const Rabies = "rabies"

// Certificate holds what a rabies certificate asks, for one dose. The form itself
// is the veterinarian's, who signs it.
type Certificate struct {
	Injection int     `json:"injection"`
	Fields    []Field `json:"fields"`
}

// Field is one thing that a certificate asks. Value is empty where the record does
// not hold it; ByVet says that only the veterinarian fills it in.
type Field struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	ByVet bool   `json:"by_the_veterinarian,omitempty"`
}

// Certificates makes the fields for every dose against rabies that was given in a
// visit. The items are those of NASPHV Form 51 (rev. 2007), without its layout;
// the animal's name and first or booster are from memory; who gave it: CDC and
// NASPHV ask that the certificate identifies the person.
func Certificates(v exam.Visit) []Certificate {
	var out []Certificate
	for _, i := range v.Injections {
		against := slices.ContainsFunc(i.Against(), func(a string) bool { return strings.EqualFold(a, Rabies) })
		if against && i.State == exam.InjectionGiven {
			out = append(out, Certificate{i.Number, certificate(v, i)})
		}
	}
	return out
}

func certificate(v exam.Visit, i exam.Injection) []Field {
	h, o := v.Horse, i.Order
	day, by := "", i.GivenBy()
	if i.EndAt != nil {
		day = i.EndAt.Format(notation.DayShown)
	}
	vet := ""
	for _, d := range v.Decisions {
		if d.Seq == o.Decision {
			vet = d.Vet
		}
	}
	site := ""
	if n := len(i.Attempts); n > 0 {
		site = i.Attempts[n-1].Place.String()
	}
	neutered := ""
	switch h.Sex {
	case exam.Gelding:
		neutered = "yes"
	case exam.Stallion, exam.Colt:
		neutered = "no"
	case exam.Mare, exam.Filly, exam.SexUnknown:
	}
	return []Field{
		{Name: "tag number", Value: o.TagNumber},
		{Name: "microchip", Value: h.Chip},
		{Name: "animal's name", Value: h.Name},
		{Name: "owner: last, first and middle name", Value: h.Owner},
		{Name: "owner: telephone", Value: h.OwnerPhone},
		{Name: "owner: address", Value: h.OwnerAddress},
		{Name: "species", Value: species(h.Kind)},
		{Name: "age", Value: h.AgeWords(v.OpenedAt)},
		{Name: "size", Value: weight(v)},
		{Name: "predominant breed", Value: h.Breed},
		{Name: "colors and markings", Value: join(", ", h.Colour, h.Markings)},
		{Name: "sex", Value: h.Sex.String()},
		{Name: "neutered", Value: neutered},
		{Name: "animal control license", Value: ""},
		{Name: "product", Value: o.Product},
		{Name: "manufacturer", Value: o.Maker},
		{Name: "serial (lot) number", Value: o.Lot},
		{Name: "expiry", Value: notation.Shown(o.Expiry.Last)},
		{Name: "date vaccinated", Value: day},
		{Name: "next due", Value: notation.Shown(o.NextDue)},
		{Name: "license duration of the vaccine", ByVet: true},
		{Name: "first or booster", ByVet: true},
		{Name: "route", Value: o.Route.String()},
		{Name: "site", Value: site},
		{Name: "given by", Value: by},
		{Name: "supervised by", Value: o.SupervisedBy},
		{Name: "certificate number", Value: o.Certificate},
		{Name: "veterinarian: name", Value: vet},
		{Name: "veterinarian: license number", ByVet: true},
		{Name: "veterinarian: address", ByVet: true},
		{Name: "veterinarian: signature", ByVet: true},
	}
}

func species(kind exam.AnimalKind) string {
	if kind == exam.AnimalDonkey || kind == exam.AnimalMule {
		return kind.String()
	}
	return exam.AnimalHorse.String()
}

// weight is the body weight of the visit with how it was found.
func weight(v exam.Visit) string {
	f, ok := v.First("weight.body")
	if !ok || f.Value.Number == nil {
		return ""
	}
	text := f.Value.Number.String()
	if f.Value.Weight != nil {
		text = fmt.Sprintf("%s (%s)", text, f.Value.Weight.Method)
	}
	return text
}
