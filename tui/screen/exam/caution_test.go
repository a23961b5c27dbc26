package exam_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/procedure"
	"loosebox/tui/layout"
	"loosebox/tui/screentest"
)

func caution(t *testing.T, key string) procedure.Caution {
	t.Helper()
	for _, c := range procedure.Cautions() {
		if c.Key == key {
			return c
		}
	}
	require.Fail(t, "no caution is called "+key)
	return procedure.Caution{}
}

// stepSide is the text at the right of the order of steps.
func stepSide(d *screentest.Driver) string {
	var words []string
	for _, line := range d.Lines() {
		if _, right, ok := strings.Cut(line, "│"); ok {
			words = append(words, strings.Fields(right)...)
		}
	}
	return strings.Join(words, " ")
}

func TestTheFirstCautionIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "exam-caution", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := begin(t, "Thistle", "full-exam", size)
		return d
	})
	screentest.Goldens(t, "exam-cautions", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _, _ := begin(t, "Thistle", "full-exam", size)
		d.Press("h")
		return d
	})
}

// A caution stands in full the first time in a visit, under the name of its step;
// afterwards one line stands above the step, and all of it is one key away.
func TestACautionIsShownInFullOnceAVisitThenInALine(t *testing.T) {
	d, _, _ := begin(t, "Thistle", "full-exam", wide())
	full := strings.Join(caution(t, "approach").Full, " ")
	assert.Contains(t, stepSide(d), full, "at the first step: how to come to the horse")
	assert.Contains(t, d.Lines()[3], "Approach")
	assert.Contains(t, d.Lines()[4], "▴ Come to the shoulder", "under the name of the step")
	d.Press("tab", "shift+tab")
	assert.Contains(t, stepSide(d), strings.Join(caution(t, "handler").Full, " "), "the second caution of the step at the second look")
	d.Press("tab", "shift+tab")
	assert.NotContains(t, stepSide(d), full)
	marks := 0
	for _, line := range d.Lines() {
		marks += strings.Count(line, "▴ ")
	}
	assert.Equal(t, 2, marks, "the horse's own cautions and one line of the step's: %s", d.View())
	d.Press("h")
	whole := stepSide(d)
	for _, word := range []string{"nor behind itself", "held, not tied"} {
		assert.Contains(t, whole, word, "h shows all of them in full")
	}
}

// A sign of a disturbed nervous system brings its caution to every step near the
// mouth, from then on.
func TestNervousSignsBringTheirCaution(t *testing.T) {
	d, _, _ := begin(t, "Thistle", "full-exam", wide())
	seen := func() string { return stepSide(d) }
	assert.NotContains(t, seen(), "Nervous signs")
	d.GoTo(t, "A few steps at walk")
	d.Press("4", "enter") // sways
	d.GoTo(t, "Gum color")
	d.Press("shift+tab", "tab") // shown in full at the first such step
	assert.Contains(t, seen(), "▴ Nervous signs: no hands in the mouth", "one line, at every such step")
	d.Press("h")
	assert.Contains(t, seen(), "The veterinarian comes first.", "all of it is one key away")
}
