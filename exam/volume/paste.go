package volume

import (
	"fmt"
	"math"

	"loosebox/exam/notation"
)

// PasteSyringe is a paste syringe that is set by body weight: what one mark of its
// plunger treats and what the whole tube treats, as its label says, in one unit.
type PasteSyringe struct {
	Mark, Holds notation.Quantity // kg or lb
}

// Dial is how a paste is set for a body weight.
type Dial struct {
	Marks     int // in all
	FullTubes int // tubes given whole
	LastMarks int // marks of the tube after them; 0 where none follows
	SetTo     notation.Quantity
	Warnings  []Warning
}

// SetPaste finds the marks for a weight: the mark equal to the weight or the
// next above it, more than one tube where the horse is heavier than a tube.
// Source: how to set a paste syringe, 3dworming.co.uk and wormers-direct.co.uk
// (common practice). The product and its dose are the label's and the
// veterinarian's. The error is a *notation.Refusal.
func SetPaste(w Weight, t PasteSyringe) (Dial, error) {
	if err := possibleKg(w.Kg); err != nil {
		return Dial{}, err
	}
	mark, okMark := t.Mark.In(notation.Kilograms)
	holds, okHolds := t.Holds.In(notation.Kilograms)
	perTube := math.Round(holds.Value / mark.Value)
	switch {
	case !okMark || !okHolds || !usable(mark.Value) || !usable(holds.Value):
		return Dial{}, &notation.Refusal{Why: "say in kg or lb what one mark and what the whole tube treat; both stand on the label"}
	case mark.Value < 1 || perTube < 1 || math.Abs(holds.Value/mark.Value-perTube) > 1e-6:
		return Dial{}, &notation.Refusal{Why: fmt.Sprintf("marks of %s do not make up a tube of %s; look at the label again", t.Mark.Text(1), t.Holds.Text(1))}
	}
	marks := int(math.Ceil(w.Kg/mark.Value - 1e-9))
	d := Dial{
		Marks: marks, FullTubes: marks / int(perTube), LastMarks: marks % int(perTube),
		SetTo:    notation.Quantity{Value: tidy(float64(marks) * t.Mark.Value), Unit: t.Mark.Unit},
		Warnings: w.Warnings(),
	}
	return d, nil
}
