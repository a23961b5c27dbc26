package sums

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// Deficit is a fluid loss in litres, of one percentage or of a band.
type Deficit struct {
	Schema      string           `json:"schema"`
	WeightKg    float64          `json:"weight_kg"`
	Method      exam.WeighMethod `json:"weight_by,omitempty"`
	LowPercent  float64          `json:"low_percent"`
	HighPercent float64          `json:"high_percent"`
	LowL        float64          `json:"low_l"`
	HighL       float64          `json:"high_l"`
	Warnings    []string         `json:"warnings"`

	working, source []string
}

func deficit() Sum {
	return Sum{
		ID: "deficit", Name: "fluid deficit", Does: "liters of a loss in % of weight",
		Begin: beginBody, Work: workDeficit, Fields: deficitFields,
	}
}

func deficitFields(in In) []Field {
	return append([]Field{
		{Key: "percent", Label: "loss", Ask: "the loss in % of body weight, as the veterinarian reads the signs, 8% or 5-8%", Needed: true, Check: func(text string) error {
			_, _, err := readPercents(text)
			return err
		}},
	}, bodyFields(in, true)...)
}

func workDeficit(in In, v Values) (Outcome, error) {
	if err := complete(deficitFields(in), v); err != nil {
		return nil, err
	}
	low, high, err := readPercents(v.Get("percent"))
	if err != nil {
		return nil, err
	}
	w, err := neededWeight(in, v)
	if err != nil {
		return nil, err
	}
	from, err := volume.DeficitOf(low, w)
	if err != nil {
		return nil, err
	}
	to, err := volume.DeficitOf(high, w)
	if err != nil {
		return nil, err
	}
	d := Deficit{
		Schema: "loosebox/volume-deficit/1", WeightKg: w.Kg, Method: w.Method, LowPercent: low, HighPercent: high, LowL: from.Litres, HighL: to.Litres,
		Warnings: texts(from.Warnings), working: from.Working, source: append(volume.DeficitSource(), weightSource(w, in)...),
	}
	if high > low {
		d.working = append(d.working, to.Working[1:]...)
	}
	return d, nil
}

// Result says how many litres the loss stands for.
func (d Deficit) Result() Result {
	r := Result{Head: fmt.Sprintf("%s L", notation.FormatNumber(d.LowL, 1)), Working: d.working, Warnings: d.Warnings, Source: d.source}
	if d.HighL > d.LowL {
		r.Head = fmt.Sprintf("%s to %s L", notation.FormatNumber(d.LowL, 1), notation.FormatNumber(d.HighL, 1))
	}
	r.More = []string{"what is given, by which way and how fast, is the veterinarian's to say"}
	return r
}
