package order

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

// asSaid is the method of a weight that was typed for this procedure.
const asSaid = "as said"

// weightFrom says where a weight comes from, for the record of a dose.
func weightFrom(w volume.Weight, now time.Time) string {
	switch {
	case w.Kg <= 0:
		return ""
	case w.Method == asSaid:
		return asSaid
	case w.Method == "":
		return "of " + dayOf(w, now)
	}
	return fmt.Sprintf("%s, %s", w.Method, dayOf(w, now))
}

func dayOf(w volume.Weight, now time.Time) string {
	return now.Add(-time.Duration(w.AgeDays * 24 * float64(time.Hour))).Format(notation.DayShown)
}

// MovedWeight is the key of the point that asks for the veterinarian's word on a
// weight far from the one before.
const MovedWeight = "weight"

// movedWeight says how far the weight that carries an order's dose is from the one
// before it in the record; empty where it is near, or carries no dose.
func (s Stand) movedWeight(o exam.Order, d exam.Decided, now time.Time) string {
	c, _ := d.Cover(exam.Procedure{Kind: exam.Injecting, Product: o.Product, Route: o.Route})
	if !byWeight(c.Dose) && !byWeight(o.Dose) {
		return ""
	}
	w := s.Weight(now)
	if known := w.Kg; known > 0 && !exam.WithinRounding(o.WeightKg, known, 0) {
		w = volume.Weight{Kg: o.WeightKg, BeforeKg: known}
	}
	for _, warning := range w.Warnings() {
		if warning.Kind == volume.MovedWeight {
			return fmt.Sprintf("Check: %s kg: %s", volume.Plain(w.Kg), warning.Text)
		}
	}
	return ""
}

func byWeight(dose string) bool {
	d, err := notation.ReadDose(dose)
	return err == nil && d.ByWeight()
}

// weightPoint asks which veterinarian took such a weight.
func weightPoint(moved, by string) AnsweredPoint {
	p := procedure.CheckPoint{Key: MovedWeight, Asks: procedure.PointAsks(MovedWeight), Shown: moved}
	taken := Answer{Press: "y", Words: knownToVet.String(), OK: true, Ask: "Which veterinarian?", Check: vetOtherThan(by)}
	return AnsweredPoint{p, []Answer{taken, notInOrder()}}
}
