package rehearse

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/steps"
)

// Every choice that a horse can have is seen, heard or felt in words of its own that are not the answer's.
func TestEveryChoiceHasASightThatIsNotTheAnswer(t *testing.T) {
	all, counted := sights(), 0
	for _, step := range steps.Table().All() {
		words := map[string]string{}
		for _, c := range step.Choices {
			if cannotBe(step.ID, c.Key) {
				continue
			}
			text := all[step.ID][c.Key]
			counted++
			require.NotEmpty(t, text, "%s: %s has no sight", step.ID, c.Key)
			assert.Equal(t, exam.CleanLine(text, 0), text)
			assert.LessOrEqual(t, len(text), 120, "%s: %s", step.ID, c.Key)
			assert.Regexp(t, `^[ -~]*[.?"]$`, text, "%s: %s", step.ID, c.Key)
			assert.Empty(t, words[text], "%s: %s looks like %s", step.ID, c.Key, words[text])
			words[text] = c.Key
			for _, other := range step.Choices {
				assert.False(t, saysIt(text, other.Words), "%s: %q gives %q away", step.ID, text, other.Words)
				if other.Hint != "" {
					assert.NotContains(t, strings.ToLower(text), strings.ToLower(other.Hint))
				}
			}
		}
		for key := range all[step.ID] {
			_, ok := step.Choice(key)
			assert.True(t, ok, "%s has no choice %s", step.ID, key)
		}
	}
	assert.Greater(t, counted, 180)
	young, foals := layered(true), sightsYoung()
	for id, own := range foals {
		step, ok := steps.Table().ByID(id)
		require.True(t, ok, "%s is no step", id)
		for key, text := range own {
			assert.NotEmpty(t, all[id][key], "%s: %s", id, key)
			assert.Regexp(t, `^[ -~]*[.?"]$`, text)
			assert.LessOrEqual(t, len(text), 120)
			for _, c := range step.Choices {
				assert.False(t, saysIt(text, c.Words), "%s: %q gives %q away", id, text, c.Words)
				assert.True(t, c.Key == key || young[id][c.Key] != text, "%s: %s", id, key)
			}
		}
	}
	for id := range all {
		_, ok := steps.Table().ByID(id)
		assert.True(t, ok, "%s is no step", id)
	}
}

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
	h := horse(t, "healthy-adult", 3)
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
	all := sightsOfTheFace()
	require.Len(t, all, len(step.Parts.List))
	for total := 0; total <= 12; total++ {
		h := horse(t, "healthy-adult", uint64(total))
		v, err := h.deal(step, float64(total))
		require.NoError(t, err)
		assert.Equal(t, float64(total), v.Number.Value)
		assert.Equal(t, total, scoreFace(h.face(v, step)))
	}
	for _, p := range step.Parts.List {
		for score, words := range all[p.Key] {
			for _, given := range []string{p.Words, p.Hint, "not there", "somewhat", "plain"} {
				assert.False(t, saysIt(words, given), "%s %d: %q gives %q away", p.Key, score, words, given)
			}
		}
	}
	h := horse(t, "silent-donkey", 4)
	v, ok := h.Truth(exam.Key{Step: "pain.grimace"})
	require.True(t, ok)
	assert.Equal(t, 5.0, v.Number.Value, "the case says 5")
	assert.Len(t, v.Parts, 6)
	assert.Equal(t, 5, scoreFace(h.Look(exam.Key{Step: "pain.grimace"}, 0).Words))
}
