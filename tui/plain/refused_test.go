package plain_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/tui/plain"
)

// After a step that is not there, no line answers another question.
func TestARefusedJumpTakesNoAnswer(t *testing.T) {
	out, v, err := session(t, "tpr-recheck", "Thistle", "to liver", "1", "38.4", "to temp", "38.4", "to spleen", "stay", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	require.Len(t, v.Findings, 1, out)
	assert.Equal(t, exam.StepID("temp.rectal"), v.Findings[0].Step)
	assert.Equal(t, 2, strings.Count(out, "First say which step it belongs to."))
}

// What a question prints can be typed back: the name with its number and site, and each choice.
func TestPrintedLabelsAreUnderstood(t *testing.T) {
	for _, place := range []string{"Rectal temperature", "5 of 8. Rectal temperature?", "temperature", "temp.rectal"} {
		_, v, err := session(t, "tpr-recheck", "Thistle", "to "+place, "38.4", "quit")
		require.ErrorIs(t, err, plain.ErrLeft)
		require.Len(t, v.Findings, 1, place)
		assert.Equal(t, exam.StepID("temp.rectal"), v.Findings[0].Step, place)
	}
	for _, place := range []string{"Gut sounds, right upper", "gut.sounds:right upper"} {
		_, v, _ := session(t, "full-exam", "Thistle", "to "+place, "1", "quit")
		require.Len(t, v.Findings, 1, place)
		assert.Equal(t, exam.RightUpper, v.Findings[0].Site, place)
	}
	for _, step := range steps.Table().All() {
		for i, c := range step.Choices {
			typed := []string{c.Words, fmt.Sprintf("%d %s", i+1, c.Words)}
			if step.Kind == exam.KindScale {
				typed = []string{notation.FormatNumber(c.Score, 1) + " " + c.Words}
			}
			for _, text := range typed {
				v, err := step.ReadAnswer(text, notation.NoUnit)
				if assert.NoError(t, err, "%s: %q", step.ID, text) && step.Kind != exam.KindScale {
					assert.Equal(t, []string{c.Key}, v.Words, "%s: %q", step.ID, text)
				}
			}
		}
	}
}

func TestWordsKeepTheirCapitals(t *testing.T) {
	_, v, err := session(t, "tpr-recheck", "Thistle", "to temp", "not done: Horse refused, Owner Held Him badly", "to heart rate", "not done Dr Vale Came", "finish", "finish no time The Farrier came")
	require.NoError(t, err)
	temp, _ := v.Finding(exam.Key{Step: "temp.rectal"})
	assert.Equal(t, exam.ReasonRefused, temp.NotDone)
	assert.Equal(t, "Owner Held Him badly", temp.Note)
	heart, _ := v.Finding(exam.Key{Step: "heart.rate"})
	assert.Equal(t, exam.ReasonOther, heart.NotDone)
	assert.Equal(t, "Dr Vale Came", heart.Note)
	rhythm, _ := v.Finding(exam.Key{Step: "heart.rhythm"})
	assert.Equal(t, exam.ReasonNoTime, rhythm.NotDone)
	assert.Equal(t, "The Farrier came", rhythm.Note)
}

func TestACorrectionKeepsItsReason(t *testing.T) {
	_, v, err := session(t, "tpr-recheck", "Thistle", "to temp", "38.4", "to temp", "38.1 because I Misread it", "quit")
	require.ErrorIs(t, err, plain.ErrLeft)
	f, _ := v.Finding(exam.Key{Step: "temp.rectal"})
	assert.InDelta(t, 38.1, f.Value.Number.Value, 0)
	assert.EqualValues(t, "I Misread it", f.Why)
}
