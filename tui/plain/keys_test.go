package plain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/procedure"
	"loosebox/ranges/words"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// Whatever language a person works in, the record holds the key of a choice and no words of that language.
func TestPromptsStoreKeysInAnyLanguage(t *testing.T) {
	defer words.Use(nil)
	words.Use(examtest.MarkedWords())

	x := sit(t, screentest.Tetanus())
	out, err := x.typed((*plain.Session).Inject, vaccine("1", "", "i", "c", "x", "m", "0")...)
	require.NoError(t, err, out)
	i, _ := x.visit().Injection(1)
	assert.Equal(t, exam.StopMoved, i.Why)
	said := map[string]exam.CheckAnswer{}
	for _, c := range i.Checks {
		said[c.Key] = c.Words
	}
	assert.Equal(t, []exam.CheckAnswer{exam.ChipRead, exam.NobodyElse, exam.NeitherFoodSport, ""},
		[]exam.CheckAnswer{said["horse"], said[procedure.SecondPerson], said["food"], said["dose"]})

	// The reason in the words of that language is the key too; any other text is the person's own.
	for typed, why := range map[string]exam.StopReason{exam.StopNeedleOut.String() + ".": exam.StopNeedleOut, "she would not stand": "she would not stand"} {
		x = sit(t, screentest.Tetanus())
		out, err = x.typed((*plain.Session).Inject, vaccine("1", "", "i", "c", "x "+typed, "0")...)
		require.NoError(t, err, out)
		i, _ = x.visit().Injection(1)
		assert.Equal(t, why, i.Why)
	}

	x = sit(t, screentest.Tetanus())
	out, err = x.typed((*plain.Session).Inject, vaccine("1", "20 G, 1.5 in", "in", "clear", "given", "")...)
	require.NoError(t, err, out)
	i, _ = x.visit().Injection(1)
	require.Equal(t, exam.InjectionGiven, i.State, out)
	assert.Equal(t, exam.SharpsBox, i.Disposal)
}
