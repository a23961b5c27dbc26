package fhir

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func (r *reader) readObservation(res map[string]any) error {
	url, _, err := r.animal(res["subject"])
	if err != nil {
		return err
	}
	if res["status"] == inError {
		return errors.New("it was entered in error")
	}
	code, _ := res["code"].(map[string]any)
	step, ok := r.step(code)
	if !ok {
		return errors.New("no step of an exam here stands for its code")
	}
	at, err := time.Parse(time.RFC3339, str(res["effectiveDateTime"]))
	if err != nil {
		return errors.New("it has no moment")
	}
	e := exam.Entry{Kind: exam.EntryFinding, Step: step.ID, At: at, By: r.performer(res)}
	if e.Site, err = siteOf(step, res); err != nil {
		return err
	}
	if absent, ok := res["dataAbsentReason"].(map[string]any); ok {
		e.Kind, e.Reason = exam.EntryNotDone, notation.CleanLine(conceptText(absent), 0)
		if e.Reason == "" {
			e.Reason = string(exam.ReasonNotRecorded)
		}
	} else {
		v, err := valueOf(step, code, res)
		if err != nil {
			return err
		}
		e.Value = &v
	}
	meeting, _ := res["encounter"].(map[string]any)
	key := url + "\x00" + str(meeting["reference"])
	if str(meeting["reference"]) == "" {
		key += at.Format(notation.DayForm)
	}
	v := r.visits[key]
	if v == nil {
		v = &ForeignVisit{ID: r.identity(str(meeting["reference"])), At: at, By: e.By}
		if started, err := time.Parse(time.RFC3339, r.started(str(meeting["reference"]))); err == nil {
			v.At = started
		}
		v.End, v.Reason = r.ended(str(meeting["reference"]))
		r.visits[key], r.keys = v, append(r.keys, key)
	}
	if slices.ContainsFunc(v.Entries, func(o exam.Entry) bool { return o.Step == e.Step && o.Site == e.Site }) {
		return errors.New("its visit has an answer there already")
	}
	v.Entries = append(v.Entries, e)
	return nil
}

// identity is that of the document of an encounter, a UUID; empty for none.
func (r *reader) identity(ref string) exam.VisitID {
	for _, res := range r.byURL {
		meeting, _ := res["encounter"].(map[string]any)
		if res["resourceType"] != "Composition" || ref == "" || str(meeting["reference"]) != ref {
			continue
		}
		i, _ := res["identifier"].(map[string]any)
		if id, err := uuid.Parse(strings.TrimPrefix(str(i["value"]), "urn:uuid:")); err == nil && i["system"] == systemURI {
			return exam.VisitID(id.String())
		}
	}
	return ""
}

// ended is when an encounter ended, and what it was for, as far as the file says it.
func (r *reader) ended(ref string) (time.Time, string) {
	p, _ := r.byURL[ref]["period"].(map[string]any)
	end, _ := time.Parse(time.RFC3339, str(p["end"])) // zero where it is none
	for _, c := range objects(r.byURL[ref]["reasonCode"]) {
		return end, notation.CleanNote(conceptText(c))
	}
	return end, ""
}

// started is when an encounter began; empty where it is not in the file.
func (r *reader) started(ref string) string {
	p, _ := r.byURL[ref]["period"].(map[string]any)
	return str(p["start"])
}

// step is the step that a code stands for: this program's own, or a LOINC code that is written for one.
func (r *reader) step(code map[string]any) (exam.Step, bool) {
	for _, c := range objects(code["coding"]) {
		if c["system"] == systemStep {
			return r.steps.ByID(exam.StepID(str(c["code"])))
		}
	}
	for _, c := range objects(code["coding"]) {
		for _, id := range slices.Sorted(maps.Keys(known)) {
			if c["system"] == systemLOINC && slices.Contains(known[id], str(c["code"])) {
				return r.steps.ByID(id)
			}
		}
	}
	return exam.Step{}, false
}

func siteOf(step exam.Step, res map[string]any) (exam.Site, error) {
	c, _ := res["bodySite"].(map[string]any)
	text := conceptText(c)
	if text == "" && len(step.Sites) == 0 {
		return exam.NoSite, nil
	}
	for _, s := range append(slices.Clone(step.Sites), exam.Overall) {
		if strings.EqualFold(s.String(), text) {
			return s, nil
		}
	}
	if len(step.Sites) == 0 {
		return exam.NoSite, nil
	}
	return "", fmt.Errorf("%q is no site of %s", notation.CleanLine(text, 40), strings.ToLower(step.Name))
}

// performer is the name of who observed.
func (r *reader) performer(res map[string]any) string {
	for _, p := range objects(res["performer"]) {
		if text := notation.CleanLine(str(p["display"]), 0); text != "" {
			return text
		}
		for _, n := range objects(r.byURL[str(p["reference"])]["name"]) {
			if text := notation.CleanLine(nameText(n), 0); text != "" {
				return text
			}
		}
	}
	return "another system"
}

// valueOf is the value of an observation as an answer to the step; it must be one that the step takes.
func valueOf(step exam.Step, code, res map[string]any) (exam.Value, error) {
	if q, ok := res["valueQuantity"].(map[string]any); ok {
		return quantityOf(step, code, q)
	}
	if c, ok := res["valueCodeableConcept"].(map[string]any); ok {
		for _, one := range objects(c["coding"]) {
			if one["system"] == systemChoice+":"+string(step.ID) {
				return step.ChoiceValue(str(one["code"]))
			}
		}
		return step.ReadAnswer(conceptText(c), "")
	}
	if parts := objects(res["component"]); len(parts) > 0 {
		var keys []string
		for _, p := range parts {
			c, _ := p["code"].(map[string]any)
			for _, one := range objects(c["coding"]) {
				if one["system"] == systemChoice+":"+string(step.ID) && p["valueBoolean"] == true {
					keys = append(keys, str(one["code"]))
				}
			}
		}
		if len(keys) > 0 {
			return step.ChoiceValue(keys...)
		}
	}
	if text, ok := res["valueString"].(string); ok {
		return step.ReadAnswer(text, "")
	}
	return exam.Value{}, errors.New("its value is of a form that is not read")
}

// unitsRead are UCUM's codes as units here.
var unitsRead = map[string]notation.Unit{
	"Cel": notation.Celsius, "[degF]": notation.Fahrenheit, "/min": notation.PerMinute, "{beats}/min": notation.PerMinute, "{breaths}/min": notation.PerMinute,
	"s": notation.Seconds, "kg": notation.Kilograms, "[lb_av]": notation.Pounds, "cm": notation.Centimetre, "[in_i]": notation.Inch, "{score}": notation.Points,
}

func quantityOf(step exam.Step, code, q map[string]any) (exam.Value, error) {
	n, ok := q["value"].(float64)
	unit, known := unitsRead[str(q["code"])]
	if !ok || !known || q["system"] != systemUCUM {
		return exam.Value{}, fmt.Errorf("its unit %q is not read", notation.CleanLine(str(q["code"]), 20))
	}
	text := notation.FormatNumber(n, 3)
	if unit != notation.Points {
		text += " " + string(unit)
	}
	v, err := step.ReadAnswer(text, unit)
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return v, err
	}
	switch str(q["comparator"]) {
	case "<":
		v.Bound = exam.Under
	case "<=":
		v.Bound = exam.UpTo
	case ">":
		v.Bound = exam.Over
	case ">=":
		v.Bound = exam.AtLeast
	}
	if hasCode(code, "3141-9") {
		v.Weight = &exam.Weight{Method: exam.WeightScale}
	}
	return v, nil
}
