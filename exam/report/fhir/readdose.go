package fhir

import (
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/gs1"
	"loosebox/exam/notation"
)

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
