package fhir

import (
	"maps"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
)

func str(v any) string { s, _ := v.(string); return s }

// conceptText is the words of a CodeableConcept: its text, or the first name of a code.
func conceptText(c map[string]any) string {
	if text := str(c["text"]); text != "" {
		return text
	}
	for _, one := range objects(c["coding"]) {
		if text := str(one["display"]); text != "" {
			return text
		}
	}
	return ""
}

func hasCode(c map[string]any, code string) bool {
	return slices.ContainsFunc(objects(c["coding"]), func(one map[string]any) bool { return one["code"] == code })
}

// nameText is a HumanName in one line.
func nameText(n map[string]any) string {
	if text := str(n["text"]); text != "" {
		return text
	}
	var parts []string
	given, _ := n["given"].([]any)
	for _, g := range given {
		parts = append(parts, str(g))
	}
	return strings.TrimSpace(strings.Join(append(parts, str(n["family"])), " "))
}

// animalNamed is the kind of animal that a word for a species means.
func animalNamed(text string) (exam.Animal, bool) {
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

// birthOf is a birth date as exact as it is written.
func birthOf(text string) exam.Birth {
	for _, f := range []struct {
		form      string
		precision exam.Precision
	}{{"2006-01-02", exam.BornDay}, {"2006-01", exam.BornMonth}, {"2006", exam.BornYear}} {
		if at, err := time.Parse(f.form, text); err == nil {
			return exam.Birth{At: at, Precision: f.precision}
		}
	}
	return exam.Birth{}
}

func sorted(m map[string]int) []string { return slices.Sorted(maps.Keys(m)) }
