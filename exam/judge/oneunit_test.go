package judge_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// A sentence gives one unit to whoever set one, and both to whoever set none.
func TestOneUnitInASentence(t *testing.T) {
	hot := exam.Finding{Step: "temp.rectal", Value: exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: 41.5, Unit: notation.Celsius}}}
	v := exam.Visit{Horse: horseOf(t, ranges.AdultLight), OpenedAt: day(), Findings: []exam.Finding{hot}}
	for name, c := range map[string]struct {
		units notation.Units
		c, f  bool
	}{
		"none":       {nil, true, true},
		"Fahrenheit": {notation.Units{notation.Celsius: notation.Fahrenheit}, false, true},
		"pounds":     {notation.Units{notation.Kilograms: notation.Pounds}, true, false},
	} {
		verdict := judge.New(builtIn(t), numbers()).Reads(c.units).Visit(v, nil)
		require.True(t, verdict.Remarks[0].Combination, name)
		why := verdict.Remarks[0].Why
		assert.Equal(t, c.c, strings.Contains(why, "41 C"), "%s: %s", name, why)
		assert.Equal(t, c.f, strings.Contains(why, "105.8 F"), "%s: %s", name, why)
	}
}
