package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

func step(t require.TestingT, id exam.StepID) exam.Step {
	s, ok := steps.Table().ByID(id)
	require.True(t, ok)
	return s
}

// Six areas of 1 to 9 and half scores: the Henneke system as read at doczz.net; that the score is their mean is common
// practice.
func TestConditionByAreas(t *testing.T) {
	s := step(t, "condition.score")
	v, err := s.ReadAnswer("5 5 6 4.5 5,5 5", notation.NoUnit)
	require.NoError(t, err)
	assert.Equal(t, notation.Quantity{Value: 5, Unit: notation.Points}, *v.Number, "31 over six is 5.17")
	assert.Equal(t, []string{"5"}, v.Words)
	assert.Equal(t, map[string]float64{"neck": 5, "withers": 5, "shoulder": 6, "ribs": 4.5, "loin": 5.5, "tailhead": 5}, v.Parts)
	assert.Equal(t, "5 moderate", v.Show(s))
	assert.Equal(t, "neck 5, withers 5, behind the shoulder 6, ribs 4.5, loin 5.5, tailhead 5", v.ShowParts(s))

	v, err = s.ReadAnswer("6 7 7 6 7 6", notation.NoUnit)
	require.NoError(t, err)
	assert.Equal(t, 6.5, v.Number.Value)
	assert.Empty(t, v.Words, "half-way between two choices is neither")
	assert.Equal(t, "6.5 between moderately fleshy and fleshy", v.Show(s))

	for text, why := range map[string]string{
		"5 5 5 5 5": "has 6 areas, and 5 scores were given", "5 5 5 5 5 -": "not scored: tailhead", "5 5 5 5 5 9.5": "1 to 9",
		"5 5 5 5 5 5.3": "halves too", "5.25": "is no score", "0": "is no score", "10": "is no score",
	} {
		_, err := s.ReadAnswer(text, notation.NoUnit)
		require.ErrorContains(t, err, why, text)
	}
	v, err = s.ReadAnswer("4.5", notation.NoUnit)
	require.NoError(t, err)
	assert.Empty(t, v.Parts, "given at once")
	assert.Empty(t, v.ShowParts(s))
	v, err = s.ReadAnswer("moderately fleshy", notation.NoUnit)
	require.NoError(t, err)
	assert.Equal(t, []string{"6"}, v.Words)
}

// Six signs of 0 to 2, in all 0 to 12: Dalla Costa et al., PLoS ONE 2014;9:e92281.
func TestGrimaceBySigns(t *testing.T) {
	s := step(t, "pain.grimace")
	v, err := s.ReadAnswer("0 1 2 0 1 2", notation.NoUnit)
	require.NoError(t, err)
	assert.Equal(t, "6", v.Show(s))
	v, err = s.ReadAnswer("2 2 2 2 2 2", notation.NoUnit)
	require.NoError(t, err)
	assert.Equal(t, 12.0, v.Number.Value)
	v, err = s.ReadAnswer("0 1 - 0 1 2", notation.NoUnit)
	require.NoError(t, err)
	assert.Equal(t, "4 or more", v.Show(s), "a sign that was not seen leaves the sum open")
	_, known := v.In(notation.Points)
	assert.False(t, known)
	assert.Contains(t, v.ShowParts(s), "tension above the eye not seen")
	v, err = s.ReadAnswer("7", notation.NoUnit)
	require.NoError(t, err)
	assert.Equal(t, "7", v.Show(s))
	for _, bad := range []string{"0 1 2 3 0 0", "0 1 0.5 0 0 0", "- - - - - -", "1 1 1"} {
		_, err := s.ReadAnswer(bad, notation.NoUnit)
		require.Error(t, err, bad)
	}
	_, err = s.PartsValue(map[string]float64{"ears": 1, "tail": 1})
	require.ErrorContains(t, err, "no such sign")
}

// A stored total can be made again from the parts that are stored with it.
func TestTotalsCanBeMadeAgain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := step(t, rapid.SampledFrom([]exam.StepID{"condition.score", "pain.grimace"}).Draw(t, "step"))
		scale := 1.0
		if s.Parts.Halves {
			scale = 2
		}
		scores := map[string]float64{}
		for _, p := range s.Parts.List {
			if s.Parts.Mean || rapid.Bool().Draw(t, "seen") {
				scores[p.Key] = float64(rapid.IntRange(int(s.Parts.Score.Low*scale), int(s.Parts.Score.High*scale)).Draw(t, p.Key)) / scale
			}
		}
		v, err := s.PartsValue(scores)
		if len(scores) == 0 {
			require.Error(t, err)
			return
		}
		require.NoError(t, err)
		again, err := s.PartsValue(v.Parts)
		require.NoError(t, err)
		assert.Equal(t, v, again)
		if n, ok := v.In(notation.Points); ok && s.Kind == exam.KindNumber {
			assert.True(t, s.Possible.Contains(n))
		}
	})
}
