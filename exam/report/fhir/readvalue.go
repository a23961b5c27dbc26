package fhir

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// valueOf is the value of an observation as an answer to the step; it must be one that the step takes.
func valueOf(step exam.Step, o observation) (exam.Value, error) {
	v, err := bareValue(step, o)
	if err != nil {
		return v, err
	}
	how := ""
	if o.Method != nil {
		how = notation.CleanNote(o.Method.words())
	}
	setMeasured(&v, how)
	return v, nil
}

// setMeasured says of a value how it was measured: a weight by its method where that is one of the list, else in words.
func setMeasured(v *exam.Value, how string) {
	if v.Count != nil {
		if how == v.Count.Method.String() {
			return
		}
		v.Count = nil
	}
	if v.Kind != exam.KindWeight {
		v.Measured = how
		return
	}
	for _, m := range []exam.WeighMethod{exam.WeightScale, exam.WeightTape, exam.WeightMeasured, exam.WeightEye} {
		if rest, ok := strings.CutPrefix(how, m.String()); ok && (rest == "" || strings.HasPrefix(rest, "; ")) {
			v.Weight, v.Measured = &exam.Weight{Method: m}, strings.TrimPrefix(rest, "; ")
			return
		}
	}
	v.Measured = how
}

func bareValue(step exam.Step, o observation) (exam.Value, error) {
	choices := systemChoice + ":" + string(step.ID)
	if at := moment(o.ValueDateTime); step.Kind == exam.KindEvent && !at.IsZero() {
		return step.SeenAt(at), nil
	}
	if o.ValueQuantity != nil {
		return quantityOf(step, o.Code, *o.ValueQuantity)
	}
	if c := o.ValueCodeableConcept; c != nil {
		if key := c.code(choices); key != "" {
			return step.ChoiceValue(key)
		}
		return step.ReadAnswer(c.words(), "")
	}
	var keys []string
	for _, p := range o.Component {
		if key := p.Code.code(choices); key != "" && p.ValueBoolean {
			keys = append(keys, key)
		}
	}
	if len(keys) > 0 {
		return step.ChoiceValue(keys...)
	}
	if o.ValueString != "" {
		return step.ReadAnswer(o.ValueString, "")
	}
	return exam.Value{}, errors.New("its value is of a form that is not read")
}

// unitsRead are UCUM's codes as units here.
var unitsRead = map[string]notation.Unit{
	"Cel": notation.Celsius, "[degF]": notation.Fahrenheit, "/min": notation.PerMinute, "{beats}/min": notation.PerMinute, "{breaths}/min": notation.PerMinute,
	"s": notation.Seconds, "kg": notation.Kilograms, "[lb_av]": notation.Pounds, "cm": notation.Centimetre, "[in_i]": notation.Inch, "{score}": notation.Points,
}

func quantityOf(step exam.Step, code concept, q quantity) (exam.Value, error) {
	unit, known := unitsRead[q.Code]
	if !known || q.System != systemUCUM {
		return exam.Value{}, fmt.Errorf("its unit %q is not read", notation.CleanLine(q.Code, 20))
	}
	text := notation.FormatNumber(q.Value, 3)
	if unit != notation.Points {
		text += " " + string(unit)
	}
	v, err := step.ReadAnswer(text, unit)
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return v, err
	}
	switch q.Comparator {
	case "<":
		v.Bound = exam.Under
	case "<=":
		v.Bound = exam.UpTo
	case ">":
		v.Bound = exam.Over
	case ">=":
		v.Bound = exam.AtLeast
	}
	if code.has("3141-9") {
		v.Weight = &exam.Weight{Method: exam.WeightScale}
	}
	return v, nil
}
