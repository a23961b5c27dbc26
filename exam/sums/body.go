package sums

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// The fields of a body weight.
const (
	keyWeight = "weight"
	keyBy     = "weight-by"
)

// Ways of finding a weight, as they are chosen.
func weighedBy() []exam.Choice {
	return []exam.Choice{
		{Key: "", Words: "not said"},
		{Key: "scale", Words: exam.WeightScale},
		{Key: "tape", Words: exam.WeightTape},
		{Key: "measured", Words: exam.WeightMeasured},
		{Key: "eye", Words: exam.WeightEye},
	}
}

// bodyFields ask for a body weight; with a weight of the record the way it was found is asked only where it is changed.
func bodyFields(in In, needed bool) []Field {
	known := volume.Known(in.Visits, in.Now)
	return []Field{
		{Key: keyWeight, Label: "weight", Ask: "body weight, 500kg or 1100lb", Needed: needed, Check: refusing(volume.ParseWeight)},
		{
			Key: keyBy, Label: "weighed by", Ask: "how the weight was found", Choices: weighedBy(),
			Hidden: func(v Values) bool { return v.Get(keyWeight) == "" || asRecorded(known, v) },
		},
	}
}

func beginBody(in In) Values {
	v := Values{}
	if known := volume.Known(in.Visits, in.Now); known.Kg > 0 {
		v[keyWeight] = known.AsTyped.Text(1)
	}
	return v
}

// asRecorded says that the weight is that of the record, untouched.
func asRecorded(known volume.Weight, v Values) bool {
	return known.Kg > 0 && v.Get(keyWeight) == known.AsTyped.Text(1)
}

// bodyWeight reads the weight: that of the record with its method and age, or one that was typed, beside that of the
// record. The zero value where none is given.
func bodyWeight(in In, v Values) (volume.Weight, error) {
	known := volume.Known(in.Visits, in.Now)
	if asRecorded(known, v) {
		return known, nil
	}
	if v.Get(keyWeight) == "" {
		return volume.Weight{}, nil
	}
	q, err := volume.ParseWeight(v.Get(keyWeight))
	if err != nil {
		return volume.Weight{}, fmt.Errorf("weight: %w", err)
	}
	kg, _ := q.In(notation.Kilograms)
	w := volume.Weight{Kg: kg.Value, AsTyped: q, BeforeKg: known.Kg}
	by := v.Get(keyBy)
	for _, c := range weighedBy() {
		if by == c.Key {
			if c.Key != "" {
				w.Method = c.Words
			}
			return w, nil
		}
	}
	return w, &notation.Refusal{Typed: by, Why: fmt.Sprintf("weighed by: scale, tape, measured or eye, not %q", by)}
}

// neededWeight is bodyWeight where a sum cannot do without.
func neededWeight(in In, v Values) (volume.Weight, error) {
	w, err := bodyWeight(in, v)
	if err == nil && w.Kg == 0 {
		err = missing(bodyFields(in, true)[0])
	}
	return w, err
}

// weightSource says where the weight of a sum comes from.
func weightSource(w volume.Weight, in In) []string {
	if w.Kg == 0 {
		return nil
	}
	known := volume.Known(in.Visits, in.Now)
	from := "as given here"
	if known.Kg > 0 && w.Kg == known.Kg {
		from = "of the record"
	}
	return []string{w.Line() + "; " + from}
}
