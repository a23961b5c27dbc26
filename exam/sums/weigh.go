package sums

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
)

// Weighed is a body weight from tape measures.
type Weighed struct {
	All    []weight.Estimate
	Chosen int // -1: none was made for this animal
	Why    string
	Unit   notation.Unit // in which the person works; empty for kilograms
}

func weigh() Sum {
	return Sum{
		ID: "weigh", Name: "weigh by tape", Does: "body weight from girth and length",
		Begin: func(in In) Values {
			v := Values{}
			if !in.Known() {
				v[keyKind] = string(exam.AnimalHorse)
			}
			return v
		},
		Work: workWeigh, Fields: weighFields,
	}
}

// weighFields ask for every measure that an equation for some animal needs; those that none needs for this one are hidden.
func weighFields(in In) []Field {
	fields := animalFields(in)
	if !in.Known() {
		fields = append(fields, inFoalField(in))
	}
	for _, of := range weight.AllMeasures() {
		fields = append(fields, Field{
			Key: measureKey(of), Label: string(of), Ask: string(of) + ", 193cm or 76in",
			Of:     func(v Values) string { return measureWords(in, v, of) },
			Hidden: func(v Values) bool { _, ok := askOf(in, v, of); return !ok },
			Check:  func(text string) error { _, err := reading(text); return err },
		})
		if of == weight.Length && !in.Known() {
			fields = append(fields, lengthField(in))
		}
	}
	return fields
}

const keyLengthFrom = "length-from"

// lengthField asks where the length of an animal that was described was taken from: a length that was given for one kind
// is no length for another.
func lengthField(in In) Field {
	return Field{
		Key: keyLengthFrom, Label: "taken from", Ask: "where the length was taken from",
		Choices: []exam.Choice{
			{Key: string(weight.FromUnsaid), Words: "not said"},
			{Key: string(weight.FromShoulder), Words: "shoulder"},
			{Key: string(weight.FromShoulderWrap), Words: "shoulder, round the curve"},
			{Key: string(weight.FromShoulderStraight), Words: "shoulder, straight"},
			{Key: string(weight.FromElbow), Words: "elbow"},
		},
		Hidden: func(v Values) bool {
			_, ok := askOf(in, v, weight.Length)
			return !ok || v.Get(measureKey(weight.Length)) == ""
		},
	}
}

func measureKey(of weight.Measure) string { return strings.ReplaceAll(string(of), " ", "-") }

// measureWords says where the tape goes on this animal.
func measureWords(in In, v Values, of weight.Measure) string {
	k, ok := askOf(in, v, of)
	if !ok {
		return of.String()
	}
	words := append([]string{k.Name + ", 193cm or 76in."}, k.How...)
	if k.Optional {
		words = append(words, "It may be left out.")
	}
	return strings.Join(words, " ")
}

func askOf(in In, v Values, of weight.Measure) (weight.TapePlace, bool) {
	asks, err := asksFor(in, v)
	if err != nil {
		return weight.TapePlace{}, false
	}
	for _, k := range asks {
		if k.Measure == of {
			return k, true
		}
	}
	return weight.TapePlace{}, false
}

func asksFor(in In, v Values) ([]weight.TapePlace, error) {
	a, err := measured(in, v)
	if err != nil {
		return nil, err
	}
	return weight.Asks(a), nil
}

// measured is the animal as the equations see it.
func measured(in In, v Values) (weight.Animal, error) {
	h, err := animal(in, v)
	if err != nil {
		return weight.Animal{}, err
	}
	foal := v.Get(keyInFoal)
	if foal != "" && !in.Known() {
		h.InFoal = true
		if err := exam.CheckSex(h, in.Now); err != nil {
			return weight.Animal{}, err
		}
		h.InFoal = false
	}
	if in.Known() || foal == "" || !exam.ClassOf(h, in.Now).GrownHorse() {
		return weight.AnimalOf(h, in.Now), nil
	}
	h.Sex, h.InFoal = exam.Mare, true
	a := weight.AnimalOf(h, in.Now)
	switch foal {
	case foalEarly:
		a.PregnantMonths = 1
	case foalLate:
	default:
		return a, &notation.Refusal{Typed: foal, Why: fmt.Sprintf("in foal: early or late, not %q", foal)}
	}
	return a, nil
}

func workWeigh(in In, v Values) (Outcome, error) {
	a, err := measured(in, v)
	if err != nil {
		return nil, err
	}
	asks := weight.Asks(a)
	if len(asks) == 0 {
		return nil, &notation.Refusal{Why: fmt.Sprintf("no published equation fits this animal (%s): weigh it on a scale", a.Words())}
	}
	readings, from := map[weight.Measure]notation.Quantity{}, weight.FromUnsaid
	for _, k := range asks {
		text := v.Get(measureKey(k.Measure))
		if text == "" {
			if !k.Optional {
				return nil, &notation.Refusal{Why: "still to be measured: " + strings.ToLower(k.Name)}
			}
			continue
		}
		if text, err = weight.HandsTyped(k.Measure, text, in.Units); err == nil {
			readings[k.Measure], err = reading(text)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", strings.ToLower(k.Name), err)
		}
		switch {
		case k.Measure == weight.Length && in.Known():
			from = k.LengthFrom
		case k.Measure == weight.Length:
			from = weight.LengthFrom(v.Get(keyLengthFrom))
		}
	}
	m, err := weight.FromReadings(readings, from)
	if err != nil {
		return nil, err
	}
	out := Weighed{Unit: in.Units[notation.Kilograms]}
	if out.All, out.Chosen, out.Why, err = weight.Estimates(a, m); err != nil {
		return nil, err
	}
	if out.Chosen < 0 {
		return nil, &notation.Refusal{Why: "no weight from these measurements: " + out.Why}
	}
	return out, nil
}

// reading is a measure of the tape, with its unit.
func reading(text string) (notation.Quantity, error) {
	q, err := notation.ParseQuantity(text)
	n := notation.FormatNumber(q.Value, 1)
	var r *notation.Refusal
	switch {
	case errors.As(err, &r):
		return q, err
	case q.Unit == notation.NoUnit:
		return q, &notation.Refusal{Typed: text, Why: n + " has no unit", Meant: n + "cm or " + n + "in"}
	case q.Unit != notation.Centimetre && q.Unit != notation.Inch:
		return q, &notation.Refusal{Typed: text, Why: fmt.Sprintf("a measure of the tape is in cm or in, not in %s", q.Unit)}
	}
	return q, nil
}

// Result says the weight with its band, and what the other equations made for the animal say.
func (w Weighed) Result() Result {
	est := w.All[w.Chosen]
	other := notation.Pounds
	if w.Unit == other {
		other = notation.Kilograms
	}
	r := Result{
		Head:     fmt.Sprintf("%s (%s), %s", weight.Whole(est.Kg, w.Unit), weight.Whole(est.Kg, other), est.BandWords(w.Unit)),
		Working:  []string{"by " + est.Equation.ID + ": " + est.Equation.Formula, "measured: " + est.MeasuredAs},
		More:     []string{"chosen: " + w.Why},
		Source:   est.Explain(),
		Warnings: []string{"an estimate is not a weighing"},
	}
	for i, other := range w.All {
		if i != w.Chosen && other.Fits {
			r.More = append(r.More, fmt.Sprintf("also %s: %s (%s)", other.Equation.ID, weight.Whole(other.Kg, w.Unit), weight.SpanWords(other.LowKg, other.HighKg, w.Unit)))
			r.Source = append(r.Source, other.Explain()...)
		}
	}
	return r
}
