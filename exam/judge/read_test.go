package judge_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/judge"
	"loosebox/exam/notation"
)

// A person who works in F reads F alone in the reason of a finding that was typed in C, and the other way round nothing
// changes; the level is that of the unit that was typed, at every tenth of a degree.
func TestARemarkIsReadInOneUnit(t *testing.T) {
	j := judge.New(builtIn(t), numbers())
	us := j.Reads(notation.Units{notation.Celsius: notation.Fahrenheit})
	kept := 0
	for tenth := 350; tenth <= 415; tenth++ {
		f := measured("temp.rectal", float64(tenth)/10, notation.Celsius)
		v := adult(t, f)
		want, ok := j.Finding(v, f, nil)
		require.True(t, ok)
		got, ok := us.Finding(v, f, nil)
		require.True(t, ok)
		assert.Equal(t, want.Level, got.Level, got.Why)
		inC, inF := strings.Contains(got.Why, " C"), strings.Contains(got.Why, " F")
		assert.NotEqual(t, inC, inF, "one unit and one alone: %s", got.Why)
		if inF {
			assert.Equal(t, notation.Fahrenheit, got.Unit)
			assert.Regexp(t, ` F$`, got.Value)
		} else {
			kept++ // the two rows of the source say two things there
		}
	}
	assert.Less(t, kept, 8, "only where the rounded rows of C and F disagree")

	f := measured("temp.rectal", 39.4, notation.Celsius)
	r, _ := us.Finding(adult(t, f), f, nil)
	assert.Equal(t, "102.9 F", r.Value) // 39.4 C x 1.8 + 32 (NIST SP 811, appendix B)
	assert.Contains(t, r.Why, "102.9 F reaches 102.5")
	f = measured("temp.rectal", 102.9, notation.Fahrenheit)
	r, _ = us.Finding(adult(t, f), f, nil)
	assert.Equal(t, "102.9 F", r.Value)
}
