package judge_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// NC State veterinary hospital, isolation definitions: fever over 39.2 C, over 38.9 C after a medicine for pain or
// fever in the last 24 hours.
func TestAMedicineForFeverLowersTheLimit(t *testing.T) {
	j := whole(t)
	level := func(f exam.Finding, m ...exam.Medicine) exam.Remark {
		v := adult(t, f)
		v.Context.Medicines = m
		r, ok := j.Finding(v, f, nil)
		require.True(t, ok)
		return r
	}
	for _, f := range []exam.Finding{measured("temp.rectal", 38.9, notation.Celsius), measured("temp.rectal", 102.1, notation.Fahrenheit)} {
		assert.Equal(t, ranges.LevelRecheck, level(f).Level)
		assert.Equal(t, ranges.LevelRecheck, level(f, exam.ToCalm).Level)
		told := level(f, exam.ForPain)
		assert.Equal(t, ranges.LevelTell, told.Level)
		assert.Contains(t, told.Why, "it hides fever")
		assert.Contains(t, told.Source, "NC State")
		assert.Equal(t, ranges.Published, told.Evidence)
	}
	below := measured("temp.rectal", 38.8, notation.Celsius)
	assert.Equal(t, ranges.LevelRecheck, level(below, exam.ForPain).Level)
	cold := measured("temp.rectal", 36.0, notation.Celsius)
	assert.Equal(t, level(cold).Source, level(cold, exam.ForPain).Source, "the low limit keeps its source")
	foal := visitOf(horseOf(t, ranges.FoalFirstWeek), below)
	foal.Context.Medicines = []exam.Medicine{exam.ForPain}
	r, _ := j.Finding(foal, below, nil)
	assert.NotContains(t, r.Source, "NC State")
}

func TestMedicineIsSaidBesideWhatItHides(t *testing.T) {
	j := whole(t)
	v := adult(t, measured("heart.rate", 64, notation.PerMinute), measured("temp.rectal", 39.6, notation.Celsius), measured("gum.refill", 3.4, notation.Seconds))
	v.Context = exam.Context{Medicines: []exam.Medicine{exam.ForPain, exam.ToCalm}, Given: "paste at 07:00"}
	said := map[exam.StepID]string{}
	for _, r := range j.Visit(v, nil).Remarks {
		if !r.Combination {
			said[r.Step] = r.Medicine
			if r.Medicine != "" {
				assert.Contains(t, r.Why, r.Medicine)
			}
		}
	}
	assert.Contains(t, said["heart.rate"], "it changes heart, gut sounds and behavior")
	assert.Contains(t, said["heart.rate"], "Given: paste at 07:00.")
	assert.Contains(t, said["temp.rectal"], "it hides fever")
	assert.Empty(t, said["gum.refill"])

	v.Context = exam.Context{Medicines: []exam.Medicine{exam.MedicineNotKnown}}
	r, _ := j.Finding(v, v.Findings[0], nil)
	assert.Contains(t, r.Why, "Medicine in the last 24 hours is not known.")
	v.Context = exam.Context{Medicines: []exam.Medicine{exam.NoMedicine}}
	r, _ = j.Finding(v, v.Findings[0], nil)
	assert.Empty(t, r.Medicine)
	calm := adult(t, measured("heart.rate", 36, notation.PerMinute))
	calm.Context.Medicines = []exam.Medicine{exam.ToCalm}
	r, _ = j.Finding(calm, calm.Findings[0], nil)
	assert.Empty(t, r.Medicine, "it is said where something stands out")
}
