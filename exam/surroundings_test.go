package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func TestReadSurroundings(t *testing.T) {
	q, err := exam.ReadAir("31", notation.Celsius)
	require.NoError(t, err)
	assert.Equal(t, notation.Quantity{Value: 31, Unit: notation.Celsius}, *q)
	q, err = exam.ReadAir("88 F", notation.Celsius)
	require.NoError(t, err)
	assert.Equal(t, notation.Quantity{Value: 88, Unit: notation.Fahrenheit}, *q)
	q, err = exam.ReadAir("  ", notation.NoUnit)
	require.NoError(t, err)
	assert.Nil(t, q)
	for text, why := range map[string]string{"31": "31C or 31F", "31kg": "in C or F", "200C": "no temperature of the air", "warm": "no unit"} {
		_, err := exam.ReadAir(text, notation.NoUnit)
		require.ErrorContains(t, err, why, text)
	}
	for text, want := range map[string]float64{"65": 65, "65 %": 65, "62,5%": 62.5, "0": 0, "100": 100} {
		h, err := exam.ReadHumidity(text)
		require.NoError(t, err, text)
		assert.InDelta(t, want, *h, 0)
	}
	for _, bad := range []string{"101", "-1", "damp", "NaN", "1e9"} {
		_, err := exam.ReadHumidity(bad)
		require.Error(t, err, bad)
	}
	assert.True(t, exam.Context{}.Empty())
	assert.False(t, exam.Context{Air: q, Humid: new(float64)}.Empty())
}
