package rehearse_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/rehearse"
)

// chosen are the answers to moments of danger that are stored.
func (s *stage) chosen() []rehearse.Chosen {
	s.t.Helper()
	v, err := s.deps.Rehearsals.Visit(s.visit)
	require.NoError(s.t, err)
	return rehearse.ChoicesIn(v)
}

// No answer stands there before it is given: enter alone gives none, the number of
// a line gives it, and an arrow puts the cursor there first.
func TestAQuestionOfDangerIsAnsweredByItsNumber(t *testing.T) {
	s := newStage(t, usual())
	s.begin("tarn", 3, "tpr-recheck", rehearse.Modes{})
	s.press("enter", "space", "9", "0", "enter")
	assert.Empty(t, s.chosen())
	assert.True(t, s.reads("Press a number."), s.view())
	s.press("2")
	require.Len(t, s.chosen(), 1)
	first := s.chosen()[0].Option
	assert.True(t, s.reads("Not safe"), s.view())
	s.press("2")
	assert.True(t, s.reads("Not safe"), "the key of the answer does not close its reason")
	s.press("enter")
	assert.False(t, s.reads("Not safe"), s.view())
	assert.Len(t, s.chosen(), 1)

	s = newStage(t, usual())
	s.begin("tarn", 3, "tpr-recheck", rehearse.Modes{})
	s.press("down", "down", "enter")
	require.Len(t, s.chosen(), 1, "an arrow and enter do as well")
	assert.Equal(t, first, s.chosen()[0].Option, "the second line once more")
}

// What is still being typed as the question comes up answers nothing: the keys have
// to be quiet for a moment first.
func TestAQuestionOfDangerWaitsUntilTheKeysAreQuiet(t *testing.T) {
	s := newStage(t, usual())
	s.begin("tarn", 3, "tpr-recheck", rehearse.Modes{})
	s.pass(1)
	require.True(t, s.reads(s.horse.Moments()[0].Happens), s.view())
	for range 6 {
		s.tap("space") // a heart that is still tapped
		s.pass(0.5)
	}
	s.tap("2")
	require.Len(t, s.chosen(), 1, "a press after the keys were quiet for long counts")
}

func TestAKeyThatWasMeantForTheStepAnswersNoQuestion(t *testing.T) {
	s := newStage(t, usual())
	s.begin("tarn", 3, "tpr-recheck", rehearse.Modes{})
	for !s.reads(s.horse.Moments()[0].Happens) {
		s.pass(0.05)
	}
	for range 4 {
		s.tap("1")
		s.pass(0.3)
		assert.Empty(t, s.chosen(), "three presses a second")
	}
	assert.True(t, s.reads("Too soon"), s.view())
	s.pass(0.5)
	s.tap("1")
	assert.Len(t, s.chosen(), 1)
}
