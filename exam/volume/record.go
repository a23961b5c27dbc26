package volume

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// weighing is the step that a weight in the record was found at.
const weighing exam.StepID = "weight.body"

// Known is the last weight of a horse out of its visits, which come newest first,
// with how and how long ago it was found and the weight before it; the zero value
// where it was never weighed.
func Known(visits []exam.Visit, now time.Time) Weight {
	var w Weight
	for i := range visits {
		f, ok := visits[i].First(weighing)
		if !ok || !f.Done() || f.Value.Number == nil {
			continue
		}
		kg, ok := f.Value.In(notation.Kilograms)
		if !ok || possibleKg(kg) != nil {
			continue
		}
		if w.Kg > 0 {
			w.BeforeKg = kg
			return w
		}
		at := f.At
		if at.IsZero() {
			at = visits[i].OpenedAt
		}
		w = Weight{Kg: kg, AsTyped: *f.Value.Number, AgeDays: max(now.Sub(at).Hours()/24, 0)}
		if how := f.Value.Weight; how != nil {
			w.Method, w.LowKg, w.HighKg = how.Method, how.LowKg, how.HighKg
		}
	}
	return w
}
