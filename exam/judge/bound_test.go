package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func bounded(step exam.StepID, b exam.Bound, v float64, u notation.Unit) exam.Finding {
	f := measured(step, v, u)
	f.Value.Bound = b
	return f
}

// The refill limits are those of the adult row: usual up to 2.0 s (PENNP), recheck from 2.1 s (HENDERSON), tell from
// 3.1 s (AERA).
func TestBoundTakesTheLevelThatEveryValueHasAtLeast(t *testing.T) {
	for _, c := range []struct {
		step   exam.StepID
		bound  exam.Bound
		value  float64
		unit   notation.Unit
		level  exam.Level
		judged bool
		shown  string
	}{
		{"gum.refill", exam.AtLeast, 3, notation.Seconds, ranges.LevelRecheck, true, "3 s or more"},
		{"gum.refill", exam.Over, 3, notation.Seconds, ranges.LevelTell, true, "over 3 s"},
		{"gum.refill", exam.Under, 3, notation.Seconds, ranges.LevelUsual, false, ""},
		{"gum.refill", exam.Under, 2, notation.Seconds, ranges.LevelUsual, true, ""},
		{"gum.refill", exam.UpTo, 2, notation.Seconds, ranges.LevelUsual, true, ""},
		{"gum.refill", exam.AtLeast, 1, notation.Seconds, ranges.LevelUsual, false, ""},
		{"heart.rate", exam.AtLeast, 60, notation.PerMinute, ranges.LevelTell, true, "60 /min or more"},
		{"heart.rate", exam.Over, 44, notation.PerMinute, ranges.LevelNote, true, "over 44 /min"},
		{"heart.rate", exam.Under, 60, notation.PerMinute, ranges.LevelUsual, false, ""},
		{"heart.rate", exam.Under, 24, notation.PerMinute, ranges.LevelRecheck, true, "under 24 /min"},
		{"temp.rectal", exam.Under, 96.8, notation.Fahrenheit, ranges.LevelTell, true, "under 96.8 F"},
	} {
		verdict := onlyNumbers(t).Visit(adult(t, bounded(c.step, c.bound, c.value, c.unit)), nil)
		name := string(c.step) + " " + c.bound.Show(notation.FormatNumber(c.value, 1))
		assert.Equal(t, c.level, verdict.Level, name)
		assert.Equal(t, c.judged, len(verdict.NotJudged) == 0, "%s: %v", name, verdict.NotJudged)
		if c.shown != "" {
			require.NotEmpty(t, verdict.Remarks, name)
			assert.Equal(t, c.shown, verdict.Remarks[0].Value)
			assert.Contains(t, verdict.Remarks[0].Why, c.shown)
			assert.Contains(t, verdict.Remarks[0].Why, "not known")
		}
	}
}

func TestBoundIsNoFigureForOwnRangesAndRules(t *testing.T) {
	v := adult(t, bounded("heart.rate", exam.Under, 60, notation.PerMinute), measured("breath.rate", 12, notation.PerMinute))
	for _, r := range onlyNumbers(t).Visit(v, nil).Remarks {
		assert.False(t, r.Combination, "no rule may take a bound for a figure: %s", r.Why)
	}
	earlier := past(v.Horse, "heart.rate", notation.PerMinute, 36, 36, 36, 36)
	earlier[0].Findings[0].Value.Bound = exam.Under
	_, ok := onlyNumbers(t).Finding(v, v.Findings[0], earlier)
	assert.False(t, ok, "three figures and a bound make no own range")
}
