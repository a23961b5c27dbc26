package weight_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
)

const year = 365.25

func grown(kind exam.AnimalKind, breed string) weight.Animal {
	return weight.Animal{Kind: kind, AgeDays: 9 * year, Breed: breed}
}

func chosen(t *testing.T, a weight.Animal, m weight.Measures) weight.Estimate {
	t.Helper()
	all, at, why, err := weight.Estimates(a, m)
	require.NoError(t, err)
	require.GreaterOrEqual(t, at, 0, why)
	assert.NotEmpty(t, why)
	assert.True(t, all[at].Fits)
	return all[at]
}

func TestTheEquationMadeForTheAnimalIsChosen(t *testing.T) {
	horse := shoulder(193.04, 170.18)
	four := horse
	four.HeightCm, four.NeckCm = 157.48, 101.6
	straight := weight.Measures{GirthCm: 220, LengthCm: 180, HeightCm: 170, NeckCm: 115, LengthFrom: weight.FromShoulderStraight}
	donkey := weight.Measures{GirthCm: 110, LengthCm: 75, HeightCm: 105, LengthFrom: weight.FromElbow}
	foal := weight.Measures{GirthCm: 100}
	for _, c := range []struct {
		a    weight.Animal
		m    weight.Measures
		want string
	}{
		{grown(exam.AnimalHorse, ""), horse, "girth and length, horse"},
		{grown(exam.AnimalHorse, "Thoroughbred"), four, "girth and length, horse"},
		{grown(exam.AnimalHorse, "Arabian"), four, "four measures, Arabian"},
		{grown(exam.AnimalHorse, "Quarter Horse"), four, "four measures, stock horse"},
		{grown(exam.AnimalHorse, "Icelandic"), horse, "girth and length, Icelandic"},
		{grown(exam.AnimalHorse, ""), girthOnly(140), "girth alone, horse"},
		{grown(exam.AnimalPony, ""), four, "four measures, pony"},
		{grown(exam.AnimalPony, ""), shoulder(150, 130), "girth and length, horse"},
		{grown(exam.AnimalDraft, ""), straight, "four measures, draft"},
		{grown(exam.AnimalHorse, "Hanoverian"), straight, "four measures, warmblood"},
		{grown(exam.AnimalDonkey, ""), donkey, "girth and elbow length, donkey"},
		{grown(exam.AnimalDonkey, ""), weight.Measures{GirthCm: 110}, "girth alone, West African donkey"},
		{weight.Animal{Kind: exam.AnimalDonkey, AgeDays: 500}, donkey, "girth and elbow length, donkey"},
		{weight.Animal{Kind: exam.AnimalDonkey, AgeDays: 500}, weight.Measures{GirthCm: 124, LengthCm: 104, NavelGirthCm: 150, LengthFrom: weight.FromElbow}, "girth and elbow length, donkey"},
		{grown(exam.AnimalDonkey, "Miranda"), weight.Measures{GirthCm: 150}, "girth alone, Miranda donkey"},
		{grown(exam.AnimalMule, ""), weight.Measures{GirthCm: 185.42}, "girth table, mule"},
		{grown(exam.AnimalMule, ""), weight.Measures{GirthCm: 150}, "girth alone, mule"},
		{weight.Animal{Kind: exam.AnimalHorse, AgeDays: 2}, weight.Measures{GirthCm: 84}, "girth alone, foal"},
		{weight.Animal{Kind: exam.AnimalHorse, AgeDays: 20}, foal, "girth alone, foal"},
		{weight.Animal{Kind: exam.AnimalHorse, AgeDays: 250}, shoulder(152, 138), "girth and length, weanling"},
		{weight.Animal{Kind: exam.AnimalHorse, AgeDays: 500}, shoulder(160, 145), "girth and length, yearling"},
		{
			weight.Animal{Kind: exam.AnimalDonkey, AgeDays: 700},
			weight.Measures{NavelGirthCm: 110, LengthCm: 70, LengthFrom: weight.FromElbow},
			"navel girth and elbow length, young donkey",
		},
		{
			weight.Animal{Kind: exam.AnimalHorse, AgeDays: 9 * year, Sex: exam.Mare, InFoal: true, PregnantMonths: 8},
			weight.Measures{GirthCm: 185, Girth12Cm: 205, Girth18Cm: 215},
			"three girths, mare in foal",
		},
	} {
		est := chosen(t, c.a, c.m)
		assert.Equal(t, c.want, est.Equation.ID, "%+v", c.a)
		assert.Less(t, est.LowKg, est.Kg)
		assert.Greater(t, est.HighKg, est.Kg)
		assert.NotEmpty(t, est.MeasuredAs)
	}
}

func girthOnly(girth float64) weight.Measures { return weight.Measures{GirthCm: girth} }

// TestNoLightHorseEquationIsLent: a donkey, a miniature, a mule and a foal never
// get a weight from an equation made for grown horses.
func TestNoLightHorseEquationIsLent(t *testing.T) {
	grownOnly := map[string]bool{}
	for _, e := range weight.Fitting(grown(exam.AnimalHorse, "Arabian")) {
		grownOnly[e.ID] = true
	}
	require.NotEmpty(t, grownOnly)
	animals := []weight.Animal{grown(exam.AnimalMiniature, ""), grown(exam.AnimalDonkey, ""), grown(exam.AnimalMule, "")}
	for _, kind := range exam.Animals() {
		for _, days := range []float64{0.02, 0.5, 3, 20, 60, 150, 300, 500} {
			animals = append(animals, weight.Animal{Kind: kind, AgeDays: days})
		}
	}
	for _, a := range animals {
		for _, e := range weight.Fitting(a) {
			assert.False(t, grownOnly[e.ID], "%s for %s", e.ID, a.Words())
		}
		all, _, why, err := weight.Estimates(a, weight.Measures{
			GirthCm: 100, LengthCm: 90, HeightCm: 100, NeckCm: 60, LengthFrom: weight.FromShoulder,
		})
		require.NoError(t, err, a.Words())
		assert.NotEmpty(t, why)
		for _, est := range all {
			assert.False(t, est.Fits && grownOnly[est.Equation.ID], "%s for %s", est.Equation.ID, a.Words())
			assert.NotEmpty(t, est.Why)
		}
	}
}

func TestAMiniatureHasNoEquation(t *testing.T) {
	mini := grown(exam.AnimalMiniature, "")
	assert.Empty(t, weight.Fitting(mini))
	all, at, why, err := weight.Estimates(mini, shoulder(100, 85))
	require.NoError(t, err)
	assert.Equal(t, -1, at)
	assert.NotEmpty(t, all)
	assert.Contains(t, why, "use a scale")
}

func TestTheLengthTrapIsRefused(t *testing.T) {
	e := equation(t, "girth and length, horse")
	_, err := e.Kg(weight.Measures{GirthCm: 193, LengthCm: 130, LengthFrom: weight.FromElbow})
	var refusal *notation.Refusal
	require.ErrorAs(t, err, &refusal)
	assert.Contains(t, refusal.Why, "elbow")
	assert.Contains(t, refusal.Meant, "shoulder")

	// An elbow length never reaches a shoulder equation, nor the other way round.
	for _, from := range weight.LengthsFrom() {
		all, _, _, err := weight.Estimates(grown(exam.AnimalHorse, "Arabian"), weight.Measures{
			GirthCm: 190, LengthCm: 150, HeightCm: 150, NeckCm: 95, LengthFrom: from,
		})
		require.NoError(t, err)
		for _, est := range all {
			if len(est.Equation.LengthFrom) > 0 {
				assert.Contains(t, est.Equation.LengthFrom, from, est.Equation.ID)
			}
		}
	}

	// The estimate that is left says what stood in the way.
	_, at, why, err := weight.Estimates(grown(exam.AnimalPony, ""), weight.Measures{GirthCm: 150, LengthCm: 105, LengthFrom: weight.FromElbow})
	require.NoError(t, err)
	assert.Equal(t, -1, at)
	assert.Contains(t, why, "elbow")

	// Of a donkey it must be said; of a horse it is the shoulder, and said so.
	_, _, _, err = weight.Estimates(grown(exam.AnimalDonkey, ""), weight.Measures{GirthCm: 110, LengthCm: 75})
	require.ErrorAs(t, err, &refusal)
	est := chosen(t, grown(exam.AnimalHorse, ""), weight.Measures{GirthCm: 190, LengthCm: 165})
	assert.Contains(t, est.MeasuredAs, "taken to be from the point of the shoulder")

	// The warmblood equation wants the straight length only.
	m := shoulder(195, 165)
	m.HeightCm, m.NeckCm = 168, 100
	out := weight.LeftOut(grown(exam.AnimalHorse, "Warmblood"), m)
	require.NotEmpty(t, out)
	assert.True(t, out[0].Trap)
}

func TestTwoGirthReadingsAreAveraged(t *testing.T) {
	one := chosen(t, grown(exam.AnimalHorse, ""), shoulder(190, 165))
	m := shoulder(189, 165)
	m.GirthAgainCm = 191
	two := chosen(t, grown(exam.AnimalHorse, ""), m)
	assert.InDelta(t, one.Kg, two.Kg, 1e-9)
	assert.Contains(t, two.MeasuredAs, "mean of 189 and 191 cm")

	m.GirthCm, m.GirthAgainCm = 185, 192
	_, _, why, err := weight.Estimates(grown(exam.AnimalHorse, ""), m)
	require.NoError(t, err)
	assert.Contains(t, why, "the two girths differ by")
	m.GirthCm, m.GirthAgainCm = 170, 200
	require.Error(t, weight.Plausible(m))
}

func TestTheReasonNamesWhatABetterEquationNeeds(t *testing.T) {
	_, _, why, err := weight.Estimates(grown(exam.AnimalDraft, ""), shoulder(220, 180))
	require.NoError(t, err)
	assert.Contains(t, why, "four measures, draft also needs: height, neck")
	_, _, why, err = weight.Estimates(grown(exam.AnimalHorse, ""), shoulder(190, 165))
	require.NoError(t, err)
	assert.NotContains(t, why, "needs")

	// Two equations for mules are a third apart at 72 in, and the reason says so.
	_, _, why, err = weight.Estimates(grown(exam.AnimalMule, ""), girthOnly(182.88))
	require.NoError(t, err)
	assert.Contains(t, why, "use a scale")
}

func TestAnEstimateIsRecordedWithItsReadings(t *testing.T) {
	typed := map[weight.Measure]notation.Quantity{weight.Girth: {Value: 76, Unit: notation.Inch}, weight.Length: {Value: 67, Unit: notation.Inch}}
	m, err := weight.FromReadings(typed, weight.FromShoulder)
	require.NoError(t, err)
	kept := chosen(t, grown(exam.AnimalHorse, ""), m).Recorded(typed)
	assert.Equal(t, exam.WeightMeasured, kept.Method)
	assert.Equal(t, "girth and length, horse", kept.Equation)
	assert.Equal(t, notation.Quantity{Value: 76, Unit: notation.Inch}, kept.Measures["girth"])
	assert.Less(t, kept.LowKg, kept.HighKg)
}
