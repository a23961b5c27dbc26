package fhir

import (
	"maps"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
)

// words are those of a concept: its text, or the first name of a code.
func (c concept) words() string {
	if c.Text != "" {
		return c.Text
	}
	for _, one := range c.Coding {
		if one.Display != "" {
			return one.Display
		}
	}
	return ""
}

// code is that of a system; empty for none.
func (c concept) code(system string) string {
	for _, one := range c.Coding {
		if one.System == system {
			return one.Code
		}
	}
	return ""
}

// has says that a concept has a code, in whatever system.
func (c concept) has(code string) bool {
	return slices.ContainsFunc(c.Coding, func(one coding) bool { return one.Code == code })
}

// words are a name in one line.
func (n name) words() string {
	if n.Text != "" {
		return n.Text
	}
	return strings.TrimSpace(strings.Join(append(slices.Clone(n.Given), n.Family), " "))
}

// animalNamed is the kind of animal that a word for a species means.
func animalNamed(text string) (exam.AnimalKind, bool) {
	text = strings.ToLower(text)
	for _, a := range exam.Animals() {
		if strings.EqualFold(string(a), text) || strings.EqualFold(a.String(), text) {
			return a, true
		}
	}
	switch {
	case strings.Contains(text, "equus caballus") || strings.Contains(text, "equine") || strings.Contains(text, "horse"):
		return exam.AnimalHorse, true
	case strings.Contains(text, "asinus") || strings.Contains(text, "donkey"):
		return exam.AnimalDonkey, true
	}
	return "", false
}

// birthOf is a birth as exact as it is written: a date, its minute, or what this program says of one beside it.
func birthOf(text string, more *element) exam.Birth {
	var b exam.Birth
	for _, f := range []struct {
		form      string
		precision exam.BirthPrecision
	}{{"2006-01-02", exam.BornDay}, {"2006-01", exam.BornMonth}, {"2006", exam.BornYear}} {
		if at, err := time.Parse(f.form, text); err == nil {
			b = exam.Birth{At: at, Precision: f.precision}
		}
	}
	if more == nil {
		return b
	}
	for _, e := range more.Extension {
		at, err := time.Parse(time.RFC3339, e.ValueDateTime)
		said := exam.BirthPrecision(e.ValueString)
		switch {
		case e.URL == extensionBirthTime && err == nil:
			b = exam.Birth{At: at, Precision: exam.BornMinute}
		case e.URL == extensionBirth && slices.Contains([]exam.BirthPrecision{exam.BornEstimated, exam.BornFoal, exam.BornAdult}, said):
			b.Precision = said
		}
	}
	return b
}

func sorted(m map[string]int) []string { return slices.Sorted(maps.Keys(m)) }
