package sums

import (
	"fmt"
	"math"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// The fields of a body weight.
const (
	keyWeight = "weight"
	keyBy     = "weight-by"
	keyAgo    = "weight-age"
	keyBefore = "weight-before"
)

// Ways of finding a weight, as they are chosen.
func weighedBy() []exam.Choice {
	return []exam.Choice{
		{Key: "", Words: "not said"},
		{Key: "scale", Words: exam.WeightScale.String()},
		{Key: "tape", Words: exam.WeightTape.String()},
		{Key: "measured", Words: exam.WeightMeasured.String()},
		{Key: "eye", Words: exam.WeightEye.String()},
	}
}

// methodBy is the way of weighing that a choice of weighedBy stands for.
func methodBy(key string) exam.WeighMethod {
	return map[string]exam.WeighMethod{"scale": exam.WeightScale, "tape": exam.WeightTape, "measured": exam.WeightMeasured, "eye": exam.WeightEye}[key]
}

// bodyFields ask for a body weight; with a weight of the record the way it was found is asked only where it is changed.
func bodyFields(in In, needed bool) []Field {
	known := volume.Known(in.Visits, in.Now).As(in.Units)
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
	if known := volume.Known(in.Visits, in.Now).As(in.Units); known.Kg > 0 {
		v[keyWeight] = known.Text()
	}
	return v
}

// asRecorded says that the weight is that of the record, untouched.
func asRecorded(known volume.Weight, v Values) bool {
	return known.Kg > 0 && v.Get(keyWeight) == known.Text()
}

// bodyWeight reads the weight: that of the record with its method and age, or one that was typed, beside that of the
// record. The zero value where none is given.
func bodyWeight(in In, v Values) (volume.Weight, error) {
	known := volume.Known(in.Visits, in.Now).As(in.Units)
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
			w.Method = methodBy(by)
			return w, aged(&w, in, v)
		}
	}
	return w, &notation.Refusal{Typed: by, Why: fmt.Sprintf("--%s is scale, tape, measured or eye, not %q", keyBy, by)}
}

// bodyFlags are what more the command asks about a weight that is typed.
func bodyFlags() []Field {
	return []Field{
		{Key: keyAgo, Ask: "how long ago, 70d"},
		{Key: keyBefore, Ask: "the weight before it, 480kg", Check: refusing(volume.ParseWeight)},
	}
}

// aged reads how old a typed weight is, and the one before it.
func aged(w *volume.Weight, in In, v Values) error {
	if text := v.Get(keyAgo); text != "" {
		b, err := intake.ReadAge(text, in.Now)
		if err != nil || b.Precision != exam.BornMinute {
			return &notation.Refusal{Typed: text, Why: fmt.Sprintf("--%s: %q is no span of time; write it like 60d, 3w or 8mo", keyAgo, notation.CleanLine(text, 20))}
		}
		w.AgeDays = rounded(in.Now.Sub(b.At).Hours() / 24)
	}
	if text := v.Get(keyBefore); text != "" {
		q, err := volume.ParseWeight(text)
		if err != nil {
			return fmt.Errorf("%s: %w", keyBefore, err)
		}
		kg, _ := q.In(notation.Kilograms)
		w.BeforeKg = kg.Value
	}
	return nil
}

// rounded is a number of a result with two decimals, as JSON shows it.
func rounded(v float64) float64 { return math.Round(v*100) / 100 }

// onlyIf is a number where there is one, and null in JSON where there is none.
func onlyIf(has bool, v float64) *float64 {
	if !has {
		return nil
	}
	return &v
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
	known := volume.Known(in.Visits, in.Now).As(in.Units)
	from := "as given here"
	if known.Kg > 0 && w.Kg == known.Kg {
		from = "of the record"
	}
	return []string{w.Line() + "; " + from}
}
