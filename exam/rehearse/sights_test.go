package rehearse

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

// saysIt says that a text holds the words of an answer, as whole words. The names of parts ("wound" beside "deep wound")
// count as well; "none" and "soft" are everyday words and count only where they are the whole answer of a pick.
func saysIt(text, answer string) bool {
	padded := " " + strings.NewReplacer(",", " ", ".", " ", ";", " ", ":", " ", "?", " ").Replace(strings.ToLower(text)) + " "
	answer = strings.ToLower(answer)
	switch answer {
	case "none", "soft", "cold", "fat", "thin", "poor", "slight":
		return false
	}
	return strings.Contains(padded, " "+strings.NewReplacer(",", " ").Replace(answer)+" ")
}

// What Look gives holds neither the key nor the words of the answer, at every place of every case; own words of a teacher
// replace it.
func TestLookNeverGivesTheAnswer(t *testing.T) {
	for _, c := range builtInCases(t) {
		h := horse(t, c.Name, 3)
		for _, step := range steps.Table().All() {
			for _, k := range placesOf(step) {
				seen := h.Look(k, 0)
				require.NotEmpty(t, seen.Words, "%s %s", k.Step, k.Site)
				v, ok := h.Truth(k)
				if !ok || len(v.Words) == 0 {
					continue
				}
				for _, key := range v.Words {
					choice, _ := step.Choice(key)
					assert.False(t, saysIt(seen.Words, choice.Words), "%s: %q", k.Step, seen.Words)
				}
			}
		}
	}
	h := horse(t, "clover", 3)
	h.Case.Seen = map[exam.Key]string{{Step: "cough"}: "My own words."}
	assert.Equal(t, "My own words.", h.Look(exam.Key{Step: "cough"}, 0).Words)
	assert.Equal(t, "There is nothing to be had here.", h.Look(exam.Key{Step: "cough", Site: exam.Left}, 0).Words)
	assert.Equal(t, "There is nothing to be had here.", h.Look(exam.Key{Step: "nosuch"}, 0).Words)
	assert.Equal(t, "There is nothing to be had here.", h.Look(exam.Key{Step: "navel"}, 0).Words, "not asked of an adult")
}

// The points of the face add up to the total that is true, and each is told as it was dealt, in words that are not the
// step's.
func TestGrimaceSignsAddUp(t *testing.T) {
	step, ok := steps.Table().ByID("pain.grimace")
	require.True(t, ok)
	for total := 0; total <= 12; total++ {
		h := horse(t, "clover", uint64(total))
		v, err := h.deal(step, float64(total))
		require.NoError(t, err)
		assert.Equal(t, float64(total), v.Number.Value)
		assert.Equal(t, total, scoreFace(step, h.face(v, step)))
	}
	h := horse(t, "nettle", 4)
	v, ok := h.Truth(exam.Key{Step: "pain.grimace"})
	require.True(t, ok)
	assert.Equal(t, 5.0, v.Number.Value, "the case says 5")
	assert.Len(t, v.Parts, 6)
	assert.Equal(t, 5, scoreFace(step, h.Look(exam.Key{Step: "pain.grimace"}, 0).Words))
}
