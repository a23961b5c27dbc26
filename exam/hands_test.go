package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

// A height of 15.2 is in hands where hands are set, and asked about elsewhere (a hand is 4 inches, common practice).
func TestAHeightTypedInHands(t *testing.T) {
	step, ok := steps.Table().ByID("height.withers")
	require.True(t, ok)
	units := notation.Units{notation.Centimetre: notation.Inch, notation.Inch: notation.Hands}
	for _, text := range []string{"15.2", "15.2 hh", "15.2hh"} {
		q, err := step.ReadNumber(text, step.Prefer(units))
		require.NoError(t, err, text)
		assert.Equal(t, notation.Quantity{Value: 62, Unit: notation.Inch}, q, text)
	}
	_, err := step.ReadNumber("15.2", step.Prefer(nil))
	require.ErrorContains(t, err, "15.2 hh")
	q, err := step.ReadNumber("62", step.Prefer(units))
	require.NoError(t, err)
	assert.Equal(t, notation.Inch, q.Unit)
}
