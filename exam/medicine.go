package exam

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
)

// Medicine is what sort of medicine a horse had in the last 24 hours before an exam, by what it is for. It names no
// product: what was given, and when, stands in a person's own words beside it.
type Medicine string

// The answers to "medicine in the last 24 hours?". A horse can have had several sorts; none and not known stand alone.
const (
	NoMedicine       Medicine = "none"
	MedicineNotKnown Medicine = "not known"
	ForPain          Medicine = "for pain or fever"
	ToCalm           Medicine = "to calm"
	OtherMedicine    Medicine = "other"
)

// Medicines lists every answer.
func Medicines() []Medicine {
	return []Medicine{NoMedicine, MedicineNotKnown, ForPain, ToCalm, OtherMedicine}
}

// Alone says that the answer excludes every other one.
func (m Medicine) Alone() bool { return m == NoMedicine || m == MedicineNotKnown }

// MaxGiven is the longest text of what was given and when, in characters.
const MaxGiven = 120

// ReadMedicines reads answers by their beginnings, with commas between them: "pain, calm", "none", "not known". An
// empty text is no answer. The error is a *notation.Refusal.
func ReadMedicines(text string) ([]Medicine, error) {
	var out []Medicine
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		want := strings.Join(strings.Fields(strings.ToLower(notation.CleanLine(part, MaxGiven))), " ")
		if want == "" {
			continue
		}
		m, ok := medicineNamed(want)
		if !ok {
			return nil, &notation.Refusal{Typed: want, Why: fmt.Sprintf("it is one of %s", medicineList(Medicines()))}
		}
		out = append(out, m)
	}
	return sortedMedicines(out)
}

func medicineNamed(want string) (Medicine, bool) {
	if strings.TrimPrefix(want, "for ") == "fever" {
		return ForPain, true
	}
	for _, m := range Medicines() {
		for _, name := range []string{string(m), strings.TrimPrefix(string(m), "for "), strings.TrimPrefix(string(m), "to "), strings.ToLower(m.String())} {
			if strings.HasPrefix(name, want) {
				return m, true
			}
		}
	}
	return "", false
}

// sortedMedicines gives each answer once, in the order of Medicines.
func sortedMedicines(list []Medicine) ([]Medicine, error) {
	var out []Medicine
	for _, m := range Medicines() {
		for _, own := range list {
			if own == m {
				out = append(out, m)
				break
			}
		}
	}
	if len(out) > 1 && out[0].Alone() {
		return nil, &notation.Refusal{Typed: medicineList(out), Why: fmt.Sprintf("%q stands alone", out[0])}
	}
	return out, nil
}

func medicineList(list []Medicine) string {
	words := make([]string, len(list))
	for i, m := range list {
		words[i] = m.String()
	}
	return strings.Join(words, ", ")
}

// Took says that the horse had a medicine of this sort.
func (c Context) Took(m Medicine) bool {
	for _, own := range c.Medicines {
		if own == m {
			return true
		}
	}
	return false
}

// Sedated says that the horse had a medicine to calm.
func (c Context) Sedated() bool { return c.Took(ToCalm) }

// MedicineText is the answer in words, with what was given and when: "for pain or fever (paste, 07:00)". It is empty
// where nobody asked.
func (c Context) MedicineText() string {
	text := notation.CleanLine(medicineList(c.Medicines), MaxGiven)
	given := notation.CleanLine(c.Given, MaxGiven)
	switch {
	case given == "":
		return text
	case text == "":
		return given
	}
	return text + " (" + given + ")"
}

// MedicineLine is the answer as a sentence for whoever reads the visit; it says so where nobody asked.
func (c Context) MedicineLine() string {
	switch text := c.MedicineText(); {
	case text == "":
		return "Medicine in the last 24 hours: not asked."
	case c.Took(NoMedicine) && c.Given == "":
		return "No medicine in the last 24 hours."
	default:
		return "Medicine in the last 24 hours: " + text + "."
	}
}
