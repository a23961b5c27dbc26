package fhir_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Nothing is normal of which it is not known what is usual: the breathing of a newborn donkey has limits, and no range.
func TestNothingIsNormalThatIsNotKnown(t *testing.T) {
	breaths := func(perMin float64) map[string]any {
		entries := visit("v1", exam.Entry{Kind: exam.EntryFinding, Step: "breath.rate", Value: &exam.Value{
			Kind: exam.KindCount, Number: &notation.Quantity{Value: perMin, Unit: notation.PerMinute}, Count: &exam.Count{Method: exam.CountTyped},
		}})
		h := &entries[0].Opening.Horse
		h.Kind, h.Birth = exam.AnimalDonkey, exam.Birth{At: entries[0].At.AddDate(0, 0, -3), Precision: exam.BornDay}
		return find(t, written(t, entries), "Observation", has("breath.rate"))
	}
	quiet := breaths(30)
	assert.NotContains(t, quiet, "interpretation")
	assert.NotContains(t, quiet, "referenceRange")
	assert.Contains(t, whole(breaths(70)["interpretation"].([]any)[0].(map[string]any)), "tell the vet")
}
