package sums

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
	"loosebox/ranges"
)

// Dose is the volume of an ordered dose.
type Dose struct {
	Order  volume.Order
	Drawn  volume.Drawn
	source []string
}

func dose() Sum {
	return Sum{
		ID: "volume", Name: "volume of a dose", Does: "an ordered dose in mL, at a mark",
		Begin: beginBody, Work: workDose, Fields: doseFields,
	}
}

func doseFields(in In) []Field {
	syringes := make([]exam.Choice, 0, len(syringesOf(in)))
	for _, s := range syringesOf(in) {
		syringes = append(syringes, exam.Choice{Key: s.Name, Words: s.Name})
	}
	return append([]Field{
		{Key: "dose", Label: "dose ordered", Ask: "the dose as the veterinarian ordered it, 2.2mg/kg or 1100mg", Needed: true, Check: refusing(volume.ParseDose)},
		{Key: "strength", Label: "strength", Ask: "the strength on the label, 50mg/mL or 1%", Needed: true, Check: refusing(volume.ParseStrength)},
		{Key: "syringe", Label: "syringe", Ask: "the syringe in hand", Choices: syringes, Needed: true},
	}, bodyFields(in, false)...)
}

func syringesOf(in In) []volume.Syringe {
	if in.Syringes != nil {
		return in.Syringes
	}
	return volume.Syringes()
}

func workDose(in In, v Values) (Outcome, error) {
	if err := complete(doseFields(in), v); err != nil {
		return nil, err
	}
	o := volume.Order{Table: in.Syringes}
	var err error
	if o.Dose, err = volume.ParseDose(v.Get("dose")); err != nil {
		return nil, fmt.Errorf("dose: %w", err)
	}
	if o.Strength, err = volume.ParseStrength(v.Get("strength")); err != nil {
		return nil, fmt.Errorf("strength: %w", err)
	}
	for _, s := range syringesOf(in) {
		if s.Name == v.Get("syringe") {
			o.Syringe = s
		}
	}
	if o.Weight, err = bodyWeight(in, v); err != nil {
		return nil, err
	}
	d, err := volume.WorkOut(o)
	if err != nil {
		return nil, err
	}
	return Dose{Order: o, Drawn: d, source: weightSource(o.Weight, in)}, nil
}

// Result says what to draw, what that gives, and how it was found.
func (d Dose) Result() Result {
	r := Result{Head: fmt.Sprintf("draw %s mL (exactly %s mL)", volume.Plain(d.Drawn.DrawnML), volume.Plain(d.Drawn.ExactML)), Working: d.Drawn.Working}
	given := fmt.Sprintf("gives %s mg", volume.Plain(d.Drawn.DeliveredMg))
	if d.Drawn.HasWeight {
		given += fmt.Sprintf(", %s mg/kg", volume.Plain(d.Drawn.DeliveredMgPerKg))
	}
	r.More = []string{given + fmt.Sprintf("; rounding changed it by %s %%", notation.FormatNumber(d.Drawn.ChangePercent, 2))}
	if d.Drawn.LowPerKg > 0 {
		r.More = append(r.More, fmt.Sprintf("by the published error of the weight %s to %s mg/kg", volume.Plain(d.Drawn.LowPerKg), volume.Plain(d.Drawn.HighPerKg)))
	}
	r.Warnings = texts(d.Drawn.Warnings)
	if d.Order.Syringe.Evidence == ranges.FromMemory {
		r.Warnings = append(r.Warnings, fmt.Sprintf("the marks of this syringe are from memory (%s mL): look at the one in hand", volume.Plain(d.Order.Syringe.MarkML)))
	}
	r.Source = append(volume.DoseSource(), fmt.Sprintf("syringe: %s (%s)", d.Order.Syringe.Source, d.Order.Syringe.Evidence))
	r.Source = append(r.Source, d.source...)
	return r
}
