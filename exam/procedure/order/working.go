package order

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// Working is the volume of an order with how it was found.
type Working struct {
	ML       float64 // 0 where nothing can be worked out
	From     string
	Lines    []string // the working, for a person
	Warnings []string
	Err      error // why an order with a dose by weight or mass has no volume
}

// workOut finds the volume of the ordered dose for a syringe, where one can be
// found. A dose in mL is its own volume; one by mass, by weight or in units needs
// strength and weight; the whole dose of a label has the volume of its label.
func (o *Draft) workOut(s volume.Syringe) Working {
	d, err := notation.ReadDose(o.Get(Dose))
	if err != nil || d.Whole() {
		return Working{}
	}
	w := o.bodyWeight()
	if d.Unit.ByMass() && o.Cover.Sites <= 1 && notation.CleanLine(o.Get(Strength), 0) != "" {
		return o.byMass(d, w, s)
	}
	sum, err := exam.SumOf(d, o.Get(Strength), w.Kg, o.Cover.Sites)
	if err != nil {
		return Working{Err: err}
	}
	if d.Unit == notation.DoseML && o.Cover.Sites <= 1 {
		return Working{ML: sum.ML, From: "as ordered"}
	}
	ml := s.Nearest(sum.ML)
	if !exam.WithinRounding(ml, sum.ML, s.MarkML) || ml <= 0 {
		return Working{Err: &notation.Refusal{Why: fmt.Sprintf("%s mL cannot be drawn in a syringe of %s: its marks are too coarse", volume.Plain(sum.ML), s.Name)}}
	}
	lines := []string{sum.How, fmt.Sprintf("syringe of %s mL, marks of %s mL: draw %s mL", volume.Plain(s.ML), volume.Plain(s.MarkML), volume.Plain(ml))}
	return Working{ML: ml, From: workedOut(s), Lines: lines}
}

func workedOut(s volume.Syringe) string {
	return fmt.Sprintf("worked out, syringe of %s mL", volume.Plain(s.ML))
}

// byMass is the volume of a dose by mass with what to look at twice.
func (o *Draft) byMass(d notation.Dose, w volume.Weight, s volume.Syringe) Working {
	order := volume.Order{Dose: d, Weight: w, Syringe: s, Table: o.table}
	var err error
	if order.Strength, err = volume.ParseStrength(o.Get(Strength)); err != nil {
		return Working{Err: err}
	}
	drawn, err := volume.WorkOut(order)
	if err != nil {
		return Working{Err: err}
	}
	out := Working{ML: drawn.DrawnML, From: workedOut(s), Lines: drawn.Working}
	for _, warning := range drawn.Warnings {
		out.Warnings = append(out.Warnings, warning.Text)
	}
	return out
}

// proposedSyringe is the first of the table, which goes by size, that gives the
// dose at once; where none does, what is chosen.
func (o *Draft) proposedSyringe() string {
	for _, s := range o.table {
		if w := o.workOut(s); w.ML > 0 && w.ML <= s.ML {
			return s.Name
		}
	}
	return o.Get(Syringe)
}

// ByMass says that a dose is worked out by way of a strength.
func ByMass(dose string) bool {
	text, err := procedure.ReadDose(dose)
	if err != nil {
		return false
	}
	_, err = volume.ParseDose(text)
	return err == nil
}
