package exam_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func gums() exam.Step {
	return exam.Step{
		ID: "gum.colour", Name: "Gum color", Kind: exam.KindPick, Usual: []string{"pink"},
		Choices: []exam.Choice{{Key: "pink", Words: "pink"}, {Key: "pale pink", Words: "pale pink"}, {Key: "white", Words: "white"}},
	}
}

func TestReadAnswerTakesKeysWordsNumbersAndBeginnings(t *testing.T) {
	for text, want := range map[string]string{"pink": "pink", "PINK": "pink", "2": "pale pink", "pal": "pale pink", "w": "white", "usual": "pink"} {
		v, err := gums().ReadAnswer(text, "")
		require.NoError(t, err, text)
		assert.Equal(t, []string{want}, v.Words, text)
		assert.Equal(t, text == "usual", v.Usual)
	}
	for _, bad := range []string{"p", "", "green", "0", "4", "1.5", "\x1b[2J"} {
		_, err := gums().ReadAnswer(bad, "")
		var r *notation.Refusal
		require.ErrorAs(t, err, &r, bad)
	}
}

func TestReadAnswerOfTimesKeepsAllAndTakesTheMedian(t *testing.T) {
	s := exam.Step{Name: "Refill", Kind: exam.KindTime, Unit: notation.Seconds, Possible: exam.Span{Low: 0.2, High: 20}}
	v, err := s.ReadAnswer("1,9 1.4 1.5s", "")
	require.NoError(t, err)
	assert.Equal(t, []float64{1.9, 1.4, 1.5}, v.TrialsS)
	assert.InDelta(t, 1.5, v.Number.Value, 1e-12)
	spaced, err := s.ReadAnswer("1.4 s 1.6 s", "")
	require.NoError(t, err)
	assert.Equal(t, []float64{1.4, 1.6}, spaced.TrialsS)
	for _, bad := range []string{"", "s", "1 2 3 4", "0", "x", "1 kg", "-1"} {
		_, err := s.ReadAnswer(bad, "")
		require.Error(t, err, bad)
	}
	assert.True(t, math.IsNaN(exam.Median(nil)))
	assert.InDelta(t, 2.5, exam.Median([]float64{4, 1, 2, 3}), 0)
}

func TestReadAnswerOfMarks(t *testing.T) {
	s := exam.Step{
		Name: "Pain signs", Kind: exam.KindMarks, Usual: []string{"none"}, Alone: []string{"none"},
		Choices: []exam.Choice{{Key: "none", Words: "none seen"}, {Key: "paws", Words: "paws the ground"}, {Key: "rolls", Words: "rolls"}},
	}
	v, err := s.ReadAnswer("rolls, paws;rolls", "")
	require.NoError(t, err)
	assert.Equal(t, []string{"rolls", "paws"}, v.Words)
	assert.Equal(t, "rolls, paws the ground", v.Show(s))
	_, err = s.ReadAnswer("none, paws", "")
	require.Error(t, err)
}

func FuzzReadAnswer(f *testing.F) {
	for _, seed := range []string{"38,4", "101.2F", "usual", "1;2", "-", "NaN", "9e9", "\x1b["} {
		f.Add(seed)
	}
	all := []exam.Step{temperature(), gums(), {Name: "Refill", Kind: exam.KindTime, Possible: exam.Span{Low: 0.2, High: 20}}}
	f.Fuzz(func(t *testing.T, text string) {
		for _, s := range all {
			v, err := s.ReadAnswer(text, notation.Celsius)
			if err == nil && v.Number != nil && (math.IsNaN(v.Number.Value) || math.IsInf(v.Number.Value, 0)) {
				t.Fatalf("%q became %v", text, v.Number)
			}
		}
	})
}
