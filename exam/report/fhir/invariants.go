package fhir

import (
	"errors"
	"fmt"
	"slices"
)

// checkForm holds a resource to R4's invariants and bindings that its JSON schema cannot say, by hand: mad-1 (a dosage has
// a dose), cmp-1 (a section holds something), per-1 (a period does not end before it begins), the three statuses of an
// Immunization, where its word comes from, doseNumber, and our own: the Patient's id is its official identifier, a LOINC
// code of the nominal scale has no quantity, and every interpretation has its name.
func checkForm(r map[string]any) error {
	switch r["resourceType"] {
	case "MedicationAdministration":
		if d, ok := r["dosage"].(map[string]any); ok && d["dose"] == nil && d["rateQuantity"] == nil && d["rateRatio"] == nil {
			return errors.New("mad-1: a dosage has neither dose nor rate")
		}
	case "Immunization":
		return checkImmunization(r)
	case "Patient":
		return checkPatient(r)
	case "Observation":
		return checkObservation(r)
	case "Composition":
		for _, s := range objects(r["section"]) {
			if s["text"] == nil && s["entry"] == nil && s["section"] == nil {
				return errors.New("cmp-1: a section is empty")
			}
		}
	case "Encounter":
		p, _ := r["period"].(map[string]any)
		start, _ := p["start"].(string)
		if end, ok := p["end"].(string); ok && len(end) == len(start) && end[len(end)-6:] == start[len(start)-6:] && end < start {
			return errors.New("per-1: the period ends before it begins")
		}
	}
	return nil
}

func checkImmunization(r map[string]any) error {
	status, _ := r["status"].(string)
	if !slices.Contains([]string{"completed", inError, "not-done"}, status) {
		return fmt.Errorf("%q is no status of an Immunization", status)
	}
	if r["primarySource"] == true && r["reportOrigin"] != nil {
		return errors.New("a dose that was given here has an origin of its report")
	}
	if (r["occurrenceDateTime"] == nil) == (r["occurrenceString"] == nil) {
		return errors.New("it has not one day or one word for it")
	}
	for _, p := range objects(r["protocolApplied"]) {
		if p["doseNumberString"] == nil && p["doseNumberPositiveInt"] == nil {
			return errors.New("a protocol has no number of the dose")
		}
	}
	return nil
}

func checkPatient(r map[string]any) error {
	for _, i := range objects(r["identifier"]) {
		if i["use"] == "official" && i["system"] == systemURI && i["value"] == "urn:uuid:"+fmt.Sprint(r["id"]) {
			return nil
		}
	}
	return errors.New("the id of the animal is not its official identifier")
}

func checkObservation(r map[string]any) error {
	for _, l := range loincOf(r) {
		if r["valueQuantity"] != nil && len(allowed[l]) == 0 {
			return fmt.Errorf("LOINC %s is of the nominal scale and has a quantity", l)
		}
	}
	for _, i := range objects(r["interpretation"]) {
		n := 0
		for _, c := range objects(i["coding"]) {
			if c["display"] == nil || c["display"] == "" {
				return errors.New("an interpretation has no name")
			}
			if c["system"] == systemInterpretation {
				n++
			}
		}
		if n != 1 {
			return fmt.Errorf("an interpretation has %d codes that exclude each other", n)
		}
	}
	return nil
}

// objects are the objects of a list.
func objects(v any) []map[string]any {
	list, _ := v.([]any)
	out := make([]map[string]any, 0, len(list))
	for _, item := range list {
		if m, ok := item.(map[string]any); ok {
			out = append(out, m)
		}
	}
	return out
}
