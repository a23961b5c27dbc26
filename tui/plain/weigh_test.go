package plain_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func weightOf(t *testing.T, v exam.Visit) exam.Value {
	t.Helper()
	f, ok := v.Finding(exam.Key{Step: "weight.body"})
	require.True(t, ok)
	return f.Value
}

// A weight keeps how it was found; a guess by eye is marked from then on. Without it the line says what is missing.
func TestAWeightSaysHowItWasFound(t *testing.T) {
	out, v, err := session(t, "full-exam", "Bracken", "to body weight", "500kg by eye", "quit")
	require.Error(t, err)
	got := weightOf(t, v)
	assert.Equal(t, exam.WeightEye, got.Weight.Method)
	assert.InDelta(t, 500/1.214, got.Weight.LowKg, 0.1, "guesses read 88.3 % of the weight, SD 20.1: nine in ten up to 21.4 % over it")
	assert.Contains(t, out, "Saved: 500 kg by eye. Of 100 animals 90 lay between 412 and 906 kg.")

	for typed, method := range map[string]exam.WeighMethod{"1100lb scale": exam.WeightScale, "500 kg tape": exam.WeightTape, "500kg weight tape": exam.WeightTape, "500, eye": exam.WeightEye} {
		_, v, _ = session(t, "full-exam", "Bracken", "to body weight", typed, "quit")
		assert.Equal(t, method, weightOf(t, v).Weight.Method, typed)
	}
	out, v, _ = session(t, "full-exam", "Bracken", "to body weight", "500kg", "quit")
	assert.Nil(t, weightOf(t, v).Weight)
	assert.Contains(t, out, "to keep how it was found")
	out, _, _ = session(t, "full-exam", "Bracken", "to body weight", "500 stone scale", "quit")
	assert.Contains(t, out, "Not saved")
}

// 45 kg for a grown horse, and lb typed as kg, are asked about: doses and limits of a draw hang on the weight.
func TestAWeightThatIsNotThisAnimalsIsAskedAbout(t *testing.T) {
	for _, typed := range []string{"45 kg scale", "1100 kg scale", "45kg", "200 lb tape"} {
		out, v, _ := session(t, "full-exam", "Bracken", "to body weight", typed, "quit")
		assert.Contains(t, out, "is unlikely. Type it again if it is so.", typed)
		_, ok := v.Finding(exam.Key{Step: "weight.body"})
		assert.False(t, ok, typed)
		_, v, _ = session(t, "full-exam", "Bracken", "to body weight", typed, typed, "quit")
		weightOf(t, v)
	}
	out, _, _ := session(t, "full-exam", "Pip", "to body weight", "48 kg scale", "quit")
	assert.Contains(t, out, "Saved: 48 kg.")
}

// measure asks what an equation for this animal can use, refuses the slip where it is typed, and stores what is taken.
// 193.04 cm and 170.18 cm give 532.9 kg by 11,900 (computed from Carroll & Huntington 1988).
func TestAWeightFromMeasuresLineByLine(t *testing.T) {
	out, v, err := session(t, "full-exam", "Bracken", "to body weight", "measure",
		"76", "76cm", "source", "76in", "", "67in", "source", "take", "quit")
	require.Error(t, err)
	got := weightOf(t, v)
	assert.Equal(t, "533 kg", got.Number.String())
	assert.Equal(t, "girth and length, horse", got.Weight.Equation)
	assert.Equal(t, notation.Quantity{Value: 76, Unit: notation.Inch}, got.Weight.Measures["girth"])
	for _, want := range []string{
		"Measure 1 of 3. Heart girth?", "Not saved: 76 has no unit; did you mean 76cm or 76in?", "did you mean 76 in (193 cm)?",
		"Source: University of Minnesota, body measurements.", "An empty line skips it.", "From the point of the SHOULDER",
		"533 kg = 1175 lb. Of 100 animals 90 lay between 459 and 656 kg.", "Also girth alone, horse: 575 kg (480 to 719 kg).", "Chosen: girth and length, horse",
		"Source: Carroll & Huntington", "Saved: 533 kg.",
	} {
		assert.Contains(t, out, want)
	}
	_, v, _ = session(t, "full-exam", "Bracken", "to body weight", "measure", "76in", "stop", "quit")
	_, ok := v.Finding(exam.Key{Step: "weight.body"})
	assert.False(t, ok, "stop stores nothing")
}

// source says where every number comes from, at every step of the exam.
func TestSourceIsAWordAtEveryStep(t *testing.T) {
	out, _, _ := session(t, "full-exam", "Bracken", "to rectal", "source", "38.4C", "to rectal", "source", "to breathing effort", "source", "quit")
	assert.Contains(t, out, "Range: range for")
	assert.Contains(t, out, "Source: ")
	assert.Contains(t, out, "How it was found: as read from the instrument")
	assert.Contains(t, out, "What the answers say: 1 slight: note")
	assert.Contains(t, out, "how, source, last")

	var lines []string
	for range 70 {
		lines = append(lines, "source", "later")
	}
	out, _, _ = session(t, "full-exam", "Bracken", append(lines, "quit")...)
	steps := strings.Count(out, "> later")
	assert.Greater(t, steps, 50)
	assert.GreaterOrEqual(t, strings.Count(out, "Range: ")+strings.Count(out, "Score: ")+strings.Count(out, "What the answers say: "), steps/2)
	assert.NotContains(t, out, "Not saved")
}
