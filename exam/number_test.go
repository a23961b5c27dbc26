package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func temperature() exam.Step {
	return exam.Step{
		ID: "temp.rectal", Name: "Rectal temperature", Kind: exam.KindNumber, Unit: notation.Celsius,
		Units: []notation.Unit{notation.Celsius, notation.Fahrenheit}, Decimals: 1,
		Possible: exam.Span{Low: 28, High: 44}, Likely: exam.Span{Low: 35, High: 41.5},
	}
}

func TestReadNumberTakesWhatPeopleType(t *testing.T) {
	for _, c := range []struct {
		text string
		want notation.Quantity
	}{
		{"38,4", notation.Quantity{Value: 38.4, Unit: notation.Celsius}},
		{"101.2F", notation.Quantity{Value: 101.2, Unit: notation.Fahrenheit}},
		{"38.4 C", notation.Quantity{Value: 38.4, Unit: notation.Celsius}},
		{" 38.4 °C ", notation.Quantity{Value: 38.4, Unit: notation.Celsius}},
		{"101.2", notation.Quantity{Value: 101.2, Unit: notation.Fahrenheit}}, // possible in one unit only
	} {
		got, err := temperature().ReadNumber(c.text, notation.Celsius)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, got, c.text)
	}
}

func TestReadNumberRefusesTheImpossibleAndSaysWhatWasMeant(t *testing.T) {
	for _, c := range []struct{ text, meant string }{
		{"38.4F", "38.4 C"},
		{"384", "38.4 C"},
		{"1012", "101.2 F"},
		{"-38.2", "38.2 C"},
		{"-2", ""},
		{"12 kg", ""},
		{"3.8.4", ""},
		{"1e3", ""},
		{"", ""},
		{"NaN", ""},
	} {
		_, err := temperature().ReadNumber(c.text, notation.Celsius)
		var refusal *notation.Refusal
		require.ErrorAs(t, err, &refusal, c.text)
		assert.Equal(t, c.meant, refusal.Meant, c.text)
		assert.NotEmpty(t, refusal.Why)
	}
}

func TestReadNumberAsksOnceAboutTheUnlikely(t *testing.T) {
	q, err := temperature().ReadNumber("42.1", notation.Celsius)
	require.ErrorIs(t, err, exam.ErrUnlikely)
	assert.InDelta(t, 42.1, q.Value, 0)
}

// Exact factors: NIST Special Publication 811 (2008), appendix B.
func TestConversionsAgreeWithNIST(t *testing.T) {
	for _, c := range []struct {
		from notation.Quantity
		to   notation.Quantity
	}{
		{notation.Quantity{Value: 1, Unit: notation.Pounds}, notation.Quantity{Value: 0.45359237, Unit: notation.Kilograms}},
		{notation.Quantity{Value: 1, Unit: notation.Inch}, notation.Quantity{Value: 2.54, Unit: notation.Centimetre}},
		{notation.Quantity{Value: 212, Unit: notation.Fahrenheit}, notation.Quantity{Value: 100, Unit: notation.Celsius}},
		{notation.Quantity{Value: -40, Unit: notation.Celsius}, notation.Quantity{Value: -40, Unit: notation.Fahrenheit}},
	} {
		got, ok := c.from.In(c.to.Unit)
		require.True(t, ok)
		assert.InDelta(t, c.to.Value, got.Value, 1e-12)
		back, ok := got.In(c.from.Unit)
		require.True(t, ok)
		assert.InDelta(t, c.from.Value, back.Value, 1e-12)
	}
	_, ok := notation.Quantity{Value: 1, Unit: notation.Pounds}.In(notation.Celsius)
	assert.False(t, ok)
}
