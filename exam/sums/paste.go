package sums

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// Paste is a paste syringe set by body weight: so many full tubes, and SetTo of Unit on the last one, its mark LastMarks.
type Paste struct {
	Schema    string           `json:"schema"`
	WeightKg  float64          `json:"weight_kg"`
	Method    exam.WeighMethod `json:"weight_by,omitempty"`
	Marks     int              `json:"marks"`
	FullTubes int              `json:"full_tubes"`
	LastMarks int              `json:"last_marks"`
	SetTo     float64          `json:"set_to"`
	Unit      notation.Unit    `json:"set_to_unit"`
	Warnings  []string         `json:"warnings"`

	working, source []string
}

func paste() Sum {
	return Sum{
		ID: "paste", Name: "paste by weight", Does: "where the ring of a paste is set",
		Begin: beginBody, Work: workPaste, Fields: pasteFields,
	}
}

func pasteFields(in In) []Field {
	return append(bodyFields(in, true),
		Field{Key: "mark", Label: "one mark", Ask: "what one mark of the plunger treats, as the label says, 50kg or 250lb", Needed: true, Check: onLabel("mark")},
		Field{Key: "tube", Label: "whole tube", Ask: "what the whole tube treats, as the label says, 600kg or 1250lb", Needed: true, Check: onLabel("tube")})
}

func workPaste(in In, v Values) (Outcome, error) {
	if err := complete(pasteFields(in), v); err != nil {
		return nil, err
	}
	w, err := neededWeight(in, v)
	if err != nil {
		return nil, err
	}
	var t volume.PasteSyringe
	if t.Mark, err = label(v.Get("mark"), "mark"); err != nil {
		return nil, err
	}
	if t.Holds, err = label(v.Get("tube"), "tube"); err != nil {
		return nil, err
	}
	d, err := volume.SetPaste(w, t)
	if err != nil {
		return nil, err
	}
	mark, _ := t.Mark.In(notation.Kilograms)
	p := Paste{
		Schema: "loosebox/volume-paste/1", WeightKg: w.Kg, Method: w.Method, Marks: d.Marks, FullTubes: d.FullTubes, LastMarks: d.LastMarks,
		SetTo: d.SetTo.Value, Unit: d.SetTo.Unit, Warnings: texts(d.Warnings), source: append(volume.PasteSource(), weightSource(w, in)...),
	}
	p.working = []string{
		w.Line(), fmt.Sprintf("%s kg / %s kg a mark = %s, rounded up: %d", volume.Plain(w.Kg), volume.Plain(mark.Value), volume.Plain(w.Kg/mark.Value), d.Marks),
	}
	return p, nil
}

func onLabel(what string) func(string) error {
	return func(text string) error { _, err := label(text, what); return err }
}

// label reads a weight on a label; it need not be one that a horse can have.
func label(text, what string) (notation.Quantity, error) {
	q, err := notation.ParseQuantity(text)
	if err != nil {
		return q, fmt.Errorf("%s: %w", what, err)
	}
	if q.Unit != notation.Kilograms && q.Unit != notation.Pounds {
		n := notation.FormatNumber(q.Value, 1)
		return q, fmt.Errorf("%s: %w", what, &notation.Refusal{Typed: text, Why: fmt.Sprintf("%s is no weight with its unit", notation.CleanLine(text, 20)), Meant: n + "kg or " + n + "lb"})
	}
	return q, nil
}

func tubes(n int) string {
	if n == 1 {
		return "1 whole tube"
	}
	return fmt.Sprintf("%d whole tubes", n)
}

// Result says where the ring is set.
func (p Paste) Result() Result {
	r := Result{Head: fmt.Sprintf("set for %s %s: %d marks in all", volume.Plain(p.SetTo), p.Unit, p.Marks), Working: p.working, Warnings: p.Warnings, Source: p.source}
	switch {
	case p.FullTubes > 0 && p.LastMarks > 0:
		r.More = append(r.More, fmt.Sprintf("%s and %d marks of the next", tubes(p.FullTubes), p.LastMarks))
	case p.FullTubes > 0:
		r.More = append(r.More, tubes(p.FullTubes)+", nothing of another")
	}
	r.More = append(r.More, "empty the mouth first; check that nothing is spat out. The label and the veterinarian name the product")
	return r
}
