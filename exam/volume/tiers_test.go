package volume_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/examtest"
	"loosebox/exam/volume"
)

// No figure of blood, tube, syringe or sum carries a tier that its source does not earn.
func TestNoSourceIsCalledMoreThanItIs(t *testing.T) {
	for _, l := range volume.BloodLimits() {
		assert.Empty(t, examtest.TooStrong(l.Source, l.Evidence), l.Source)
	}
	for _, b := range volume.BloodTypes() {
		assert.Empty(t, examtest.TooStrong(b.Source, b.Evidence), b.Source)
	}
	for _, b := range volume.BloodTubes() {
		assert.Empty(t, examtest.TooStrong(b.Source, b.Evidence), b.Source)
	}
	for _, s := range volume.Syringes() {
		assert.Empty(t, examtest.TooStrong(s.Source, s.Evidence), s.Source)
	}
	for _, rules := range [][]volume.Rule{volume.DoseRules(), volume.PasteRules(), volume.DripRules(), volume.DeficitRules()} {
		for _, r := range rules {
			assert.Empty(t, examtest.TooStrong(r.Source, r.Evidence), r.Words)
		}
	}
}
