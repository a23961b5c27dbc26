package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/nav"
)

// TestALegIsOneScreen: what is asked at a leg stands together with its answers, left and right go from one to the other
// without leaving the leg, and after the last the next leg is asked.
func TestALegIsOneScreen(t *testing.T) {
	d, store, id := begin(t, "Thistle", "full-exam", wide())
	d.GoTo(t, "Limb")
	for _, short := range []string{"limb", "warmth", "hoof heat", "digital pulse"} {
		assert.True(t, d.Shows(short), short)
	}
	require.True(t, d.Shows("Limb, left fore"))
	d.Press("left")
	assert.True(t, d.Shows("Digital pulse, 0 to 4, left fore"), d.View())
	d.Press("u")
	assert.True(t, d.Shows("1 faint"), "the answer stands beside its step: %s", d.View())
	assert.True(t, d.Shows("Limb, left fore"), "what is left of the leg first: %s", d.View())
	d.Press("u", "u", "u")
	assert.True(t, d.Shows("Approach and handler"), "then back to where the jump came from: %s", d.View())
	for _, step := range []exam.StepID{"limb.look", "limb.warmth", "hoof.heat", "limb.digitalpulse"} {
		assert.True(t, finding(t, store, id, exam.Key{Step: step, Site: exam.LeftFore}).Value.Usual, step)
	}
}

// TestEscOnTheLastStepLeadsToTheReview: and not out of the exam; elsewhere esc goes back as before.
func TestEscOnTheLastStepLeadsToTheReview(t *testing.T) {
	d, _, id := begin(t, "Thistle", "tpr-recheck", wide())
	d.Press("shift+tab")
	require.True(t, d.Shows("Anything else"), d.View())
	d.Press("esc")
	assert.Equal(t, nav.Address{Screen: nav.Review, Visit: id}, d.Last())
	d.Press("esc")
	assert.True(t, d.Left(), "the review stands in the place of the exam")

	d, _, _ = begin(t, "Thistle", "tpr-recheck", wide())
	d.Press("esc")
	assert.True(t, d.Left())
}
