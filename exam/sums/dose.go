package sums

import (
	"fmt"
	"strings"

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
		Flags: append([]Field{
			{Key: keyMark, Ask: "its smallest mark where the table is wrong, 0.5mL", Check: refusing(volume.ParseML)},
			{Key: keyChange, Ask: "the change by rounding that is taken, 5% where it is not given"},
		}, bodyFlags()...),
	}
}

// What the command asks beside the fields of the screen.
const (
	keyMark   = "mark"
	keyChange = "max-change"
)

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
	if o.Syringe, err = inHand(in, v); err != nil {
		return nil, err
	}
	if text := v.Get(keyChange); text != "" {
		number, found := strings.CutSuffix(text, "%")
		q, err := notation.ParseQuantity(number)
		if err != nil || !found || q.Unit != notation.NoUnit || q.Value <= 0 {
			return nil, &notation.Refusal{Typed: text, Why: fmt.Sprintf("--%s is in %%, 5%%, not %q", keyChange, notation.CleanLine(text, 20))}
		}
		o.MaxPercent = q.Value
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

// inHand is the syringe by its name in the table, or by its size, with a mark of its own where one is given.
func inHand(in In, v Values) (volume.Syringe, error) {
	for _, s := range syringesOf(in) {
		if s.Name == v.Get("syringe") {
			return s, nil
		}
	}
	ml, err := volume.ParseML(v.Get("syringe"))
	if err != nil {
		return volume.Syringe{}, fmt.Errorf("--syringe: %w", err)
	}
	if v.Get(keyMark) == "" {
		s, err := volume.FindSyringe(ml, in.Syringes)
		if err != nil {
			err = fmt.Errorf("--syringe: %w; --%s sets the mark of another", err, keyMark)
		}
		return s, err
	}
	mark, err := volume.ParseML(v.Get(keyMark))
	if err == nil {
		var s volume.Syringe
		if s, err = volume.NewSyringe(ml, mark, "the one in hand"); err == nil {
			return s, nil
		}
	}
	return volume.Syringe{}, fmt.Errorf("--%s: %w", keyMark, err)
}

// Document is the dose as JSON shows it.
func (d Dose) Document() any {
	o := d.Order
	out := struct {
		Schema    string           `json:"schema"`
		OrderedMg float64          `json:"ordered_mg"`
		ExactML   float64          `json:"exact_ml"`
		DrawnML   float64          `json:"drawn_ml"`
		MarkML    float64          `json:"mark_ml"`
		WeightKg  *float64         `json:"weight_kg"`
		WeightBy  exam.WeighMethod `json:"weight_by,omitempty"`
		WeightAge *float64         `json:"weight_age_days,omitempty"`
		Delivered *float64         `json:"delivered_mg_per_kg"`
		Change    float64          `json:"change_percent"`
		SyringeML float64          `json:"syringe_ml"`
		Warnings  []string         `json:"warnings"`
	}{
		Schema: "loosebox/volume/1", OrderedMg: d.Drawn.OrderedMg, ExactML: d.Drawn.ExactML, DrawnML: d.Drawn.DrawnML, MarkML: o.Syringe.MarkML,
		WeightKg: onlyIf(o.Weight.Kg > 0, rounded(o.Weight.Kg)), WeightAge: onlyIf(o.Weight.Kg > 0 && rounded(o.Weight.AgeDays) > 0, rounded(o.Weight.AgeDays)),
		Delivered: onlyIf(d.Drawn.HasWeight, d.Drawn.DeliveredMgPerKg), Change: d.Drawn.ChangePercent, SyringeML: o.Syringe.ML, Warnings: texts(d.Drawn.Warnings),
	}
	if o.Weight.Kg > 0 {
		out.WeightBy = o.Weight.Method
	}
	return out
}

// Result says what to draw, what that gives, and how it was found.
func (d Dose) Result() Result {
	r := Result{Head: fmt.Sprintf("draw %s mL (exactly %s mL)", volume.Plain(d.Drawn.DrawnML), volume.Plain(d.Drawn.ExactML)), Working: d.Drawn.Working}
	given := fmt.Sprintf("gives %s mg", volume.Plain(d.Drawn.DeliveredMg))
	if d.Drawn.HasWeight {
		given += fmt.Sprintf(", %s mg/kg", notation.Figures(d.Drawn.DeliveredMgPerKg, 3))
	}
	r.More = []string{given + fmt.Sprintf("; rounding changed it by %s %%", volume.Change(d.Drawn.ChangePercent))}
	if d.Drawn.LowPerKg > 0 {
		r.More = append(r.More, fmt.Sprintf("by the published error of the weight %s to %s mg/kg", notation.Figures(d.Drawn.LowPerKg, 3), notation.Figures(d.Drawn.HighPerKg, 3)))
	}
	r.Warnings = texts(d.Drawn.Warnings)
	if d.Order.Syringe.Evidence == ranges.FromMemory {
		r.Warnings = append(r.Warnings, fmt.Sprintf("the marks of this syringe are from memory (%s mL): look at the one in hand", volume.Plain(d.Order.Syringe.MarkML)))
	}
	r.Source = append(volume.DoseSource(), fmt.Sprintf("syringe: %s (%s)", d.Order.Syringe.Source, d.Order.Syringe.Evidence))
	r.Source = append(r.Source, d.source...)
	return r
}
