package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/examtest"
	"loosebox/exam/procedure"
)

// No caution, site, needle or sign of danger carries a tier that its source does not earn.
func TestNoSourceIsCalledMoreThanItIs(t *testing.T) {
	for _, c := range procedure.Cautions() {
		assert.Empty(t, examtest.TooStrong(c.Source, c.Evidence), "caution %s: %s", c.Key, c.Source)
	}
	for _, s := range procedure.Sites() {
		assert.Empty(t, examtest.TooStrong(s.Source, s.Evidence), "site %s: %s", s.Key, s.Source)
		assert.Empty(t, examtest.NoSource(s.Against), "site %s: %s", s.Key, s.Against)
	}
	for _, n := range procedure.Needles() {
		assert.Empty(t, examtest.TooStrong(n.Source, n.Evidence), "needle %s %s: %s", n.Route, n.For, n.Source)
	}
	for _, d := range procedure.Dangers() {
		assert.Empty(t, examtest.TooStrong(d.Sources, d.Evidence), "danger %s: %s", d.Key, d.Sources)
	}
}

// By the feet nobody crouches, kneels or sits: the stricter of the handling lists, as the steps of the limbs say it.
func TestTheCautionOfTheLimbsForbidsCrouching(t *testing.T) {
	for _, c := range procedure.Cautions() {
		if c.Key == "limbs" {
			assert.Contains(t, c.Full[0], "never crouch, kneel or sit")
			assert.Contains(t, c.Line, "never crouch, kneel or sit")
		}
	}
}
