package steps

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// TestEveryNumberStepReadsWhatPeopleType walks the number steps in each of
// their units. Factors: NIST SP 811, appendix B.
func TestEveryNumberStepReadsWhatPeopleType(t *testing.T) {
	for _, s := range Table().All() {
		if len(s.Units) == 0 {
			continue
		}
		middle := notation.Quantity{Value: (s.Likely.Low + s.Likely.High) / 2, Unit: s.Unit}
		for _, u := range s.Units {
			in, ok := middle.In(u)
			require.True(t, ok, "%s in %s", s.ID, u)
			number := notation.FormatNumber(in.Value, 1)
			q, err := s.ReadNumber(number, u)
			require.NoError(t, err, "%s: %s", s.ID, number)
			assert.Equal(t, u, q.Unit, "%s keeps the unit", s.ID)
			if u != notation.Points {
				typed, err := s.ReadNumber(number+string(u), s.Unit)
				require.NoError(t, err, "%s: %s%s", s.ID, number, u)
				assert.Equal(t, q, typed)
			}
		}
		_, err := s.ReadNumber("-2", s.Unit)
		var refused *notation.Refusal
		assert.ErrorAs(t, err, &refused, "%s refuses -2", s.ID)
		_, err = s.ReadNumber("999999", s.Unit)
		assert.ErrorAs(t, err, &refused, "%s refuses 999999", s.ID)
	}
}

func TestTemperatures(t *testing.T) {
	s, _ := Table().ByID("temp.rectal")
	for typed, want := range map[string]notation.Quantity{
		"38,4":   {Value: 38.4, Unit: notation.Celsius},
		"101.2F": {Value: 101.2, Unit: notation.Fahrenheit},
		"101.2":  {Value: 101.2, Unit: notation.Fahrenheit},
		"38.4 C": {Value: 38.4, Unit: notation.Celsius},
	} {
		q, err := s.ReadNumber(typed, notation.Celsius)
		require.NoError(t, err, typed)
		assert.Equal(t, want, q, typed)
	}
	for typed, meant := range map[string]string{
		"38.4F": "38.4 C", "384": "38.4 C", "-38": "38 C", "3.84": "38.4 C",
	} {
		_, err := s.ReadNumber(typed, notation.Celsius)
		var refused *notation.Refusal
		require.ErrorAs(t, err, &refused, typed)
		assert.Equal(t, meant, refused.Meant, typed)
	}
	_, err := s.ReadNumber("43", notation.Celsius)
	assert.True(t, errors.Is(err, exam.ErrUnlikely), "43 C is asked about once")
}

func TestWeightsAndRates(t *testing.T) {
	w, _ := Table().ByID("weight.body")
	q, err := w.ReadNumber("1100lb", notation.Kilograms)
	require.NoError(t, err)
	kg, _ := q.In(notation.Kilograms)
	assert.InDelta(t, 498.951607, kg.Value, 1e-6, "1100 lb by 0.453 592 37 kg/lb")
	h, _ := Table().ByID("heart.rate")
	_, err = h.ReadNumber("184", notation.PerMinute)
	assert.ErrorIs(t, err, exam.ErrUnlikely, "184 is possible and asked about once")
	_, err = h.ReadNumber("400", notation.PerMinute)
	var refused *notation.Refusal
	require.ErrorAs(t, err, &refused)
	assert.Equal(t, "40 /min", refused.Meant)
	g, _ := Table().ByID("pain.grimace")
	_, err = g.ReadNumber("13", notation.Points)
	assert.ErrorAs(t, err, &refused, "six areas of two make twelve (HGS)")
}
