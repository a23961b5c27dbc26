package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

func TestReadMedicines(t *testing.T) {
	for text, want := range map[string][]exam.Medicine{
		"": nil, " , ": nil, "none": {exam.NoMedicine}, "NOT  known": {exam.MedicineNotKnown}, "not": {exam.MedicineNotKnown},
		"pain": {exam.ForPain}, "for pain or fever": {exam.ForPain}, "fever": {exam.ForPain}, "for": {exam.ForPain},
		"calm": {exam.ToCalm}, "to calm; other": {exam.ToCalm, exam.OtherMedicine}, "other, pain, pain": {exam.ForPain, exam.OtherMedicine},
	} {
		got, err := exam.ReadMedicines(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, why := range map[string]string{"paste": "it is one of none, not known", "none, pain": `"none" stands alone`, "not known, other": "stands alone"} {
		_, err := exam.ReadMedicines(text)
		require.ErrorContains(t, err, why, text)
	}
	for _, m := range exam.Medicines() { // what is printed can be typed back
		got, err := exam.ReadMedicines(string(m))
		require.NoError(t, err)
		assert.Equal(t, []exam.Medicine{m}, got)
	}
}

func TestMedicineIsSaid(t *testing.T) {
	for line, c := range map[string]exam.Context{
		"Medicine in the last 24 hours: not asked.":                            {},
		"No medicine in the last 24 hours.":                                    {Medicines: []exam.Medicine{exam.NoMedicine}},
		"Medicine in the last 24 hours: not known.":                            {Medicines: []exam.Medicine{exam.MedicineNotKnown}},
		"Medicine in the last 24 hours: for pain or fever, to calm (at 7 am).": {Medicines: []exam.Medicine{exam.ForPain, exam.ToCalm}, Given: "at 7 am"},
		"Medicine in the last 24 hours: a paste.":                              {Given: "a paste\x1b[2J"},
	} {
		assert.Equal(t, line, c.MedicineLine())
		assert.Equal(t, c.Medicines == nil && c.Given == "", c.Empty())
	}
	assert.True(t, exam.Context{Medicines: []exam.Medicine{exam.ToCalm}}.Sedated())
}
