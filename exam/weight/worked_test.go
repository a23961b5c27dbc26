package weight_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
)

func in(inches float64) float64 { return inches * 2.54 } // NIST SP 811, B.8: exact

func lb(kg float64) float64 { return kg / 0.45359237 } // NIST SP 811, B.8: exact

func equation(t *testing.T, id string) weight.Equation {
	t.Helper()
	e, ok := weight.ByID(id)
	require.True(t, ok, id)
	return e
}

func kg(t *testing.T, id string, m weight.Measures) float64 {
	t.Helper()
	got, err := equation(t, id).Kg(m)
	require.NoError(t, err, id)
	return got
}

// shoulder are the measures of the worked examples of horses.
func shoulder(girth, length float64) weight.Measures {
	return weight.Measures{GirthCm: girth, LengthCm: length, LengthFrom: weight.FromShoulder}
}

// TestExamplesPrintedInTheirSources holds the examples that the sources
// themselves print, to the digits printed.
func TestExamplesPrintedInTheirSources(t *testing.T) {
	// University of Minnesota, body measurements: 76 in and 67 in, 1,173 lb.
	got := kg(t, "girth and length, horse, 330", shoulder(in(76), in(67)))
	assert.Equal(t, 1173.0, math.Round(lb(got)))

	// Peace Corps, Animal Traction: donkey of 37 in and 35 in, 210 lb.
	got = kg(t, "girth and length, donkey, field manual", shoulder(in(37), in(35)))
	assert.Equal(t, 210.0, math.Round(lb(got)))

	// starmilling.com, mules: 73 in lies half-way between 1,063 and 1,144 lb, 1,103.5 lb; 70 in 986 lb.
	assert.InDelta(t, 1103.5, lb(kg(t, "girth table, mule", weight.Measures{GirthCm: in(73)})), 1e-6)
	assert.InDelta(t, 986, lb(kg(t, "girth table, mule", weight.Measures{GirthCm: in(70)})), 1e-6)
	assert.InDelta(t, 1144, lb(kg(t, "girth table, mule", weight.Measures{GirthCm: in(74)})), 1e-6)

	// University of Minnesota, body measurements: neck 40 in, height 62 in, ratio 0.64, above 0.63.
	ratio, ok := weight.NeckToHeight(exam.AnimalHorse, weight.Measures{NeckCm: in(40), HeightCm: in(62)})
	require.True(t, ok)
	assert.InDelta(t, 0.64, ratio.Ratio, 0.008) // 0.645, printed as 0.64
	assert.True(t, ratio.Above)
	ratio, ok = weight.NeckToHeight(exam.AnimalPony, weight.Measures{NeckCm: in(40), HeightCm: in(62)})
	require.True(t, ok)
	assert.False(t, ratio.Above)
}

// TestExamplesComputed holds examples computed apart from this program from the
// published coefficients: their sources print no example.
func TestExamplesComputed(t *testing.T) {
	horse := shoulder(in(76), in(67))
	horse.HeightCm, horse.NeckCm = in(62), in(40)
	draft := weight.Measures{GirthCm: 220, LengthCm: 180, HeightCm: 170, NeckCm: 115, LengthFrom: weight.FromShoulderStraight}
	warmblood := weight.Measures{GirthCm: 195, LengthCm: 165, HeightCm: 168, NeckCm: 100, LengthFrom: weight.FromShoulderStraight}
	elbow := func(girth, navel, length float64) weight.Measures {
		return weight.Measures{GirthCm: girth, NavelGirthCm: navel, LengthCm: length, LengthFrom: weight.FromElbow}
	}
	legs := func(girth, knee, length, leg float64) weight.Measures {
		return weight.Measures{GirthCm: girth, CarpusCm: knee, LengthCm: length, ForelegCm: leg, LengthFrom: weight.FromShoulder}
	}
	for _, c := range []struct {
		id    string
		m     weight.Measures
		want  float64
		unit  notation.Unit
		delta float64
	}{
		{"girth and length, horse, 330", horse, 1172.70, notation.Pounds, 0.005},
		{"girth and length, horse, 330", horse, 531.9, notation.Kilograms, 0.05},
		{"girth and length, horse", horse, 532.9, notation.Kilograms, 0.05},
		{"girth and length, horse, 11,877", horse, 533.9, notation.Kilograms, 0.05},
		{"girth and length, horse, 11,880", horse, 533.8, notation.Kilograms, 0.05},
		{"girth and length, donkey, field manual", shoulder(in(37), in(35)), 209.7, notation.Pounds, 0.05},
		{"four measures, Arabian", horse, 1207, notation.Pounds, 0.5},
		{"four measures, pony", horse, 1207, notation.Pounds, 0.5},
		{"four measures, stock horse", horse, 1260, notation.Pounds, 0.5},
		{"four measures, Arabian, metric", horse, 549.4, notation.Kilograms, 0.05},
		{"four measures, pony, metric", horse, 547.9, notation.Kilograms, 0.05},
		{"four measures, stock horse, metric", horse, 574.2, notation.Kilograms, 0.05},
		{"ideal weight, Arabian", horse, 1160, notation.Pounds, 0.5},
		{"ideal weight, pony", horse, 1235, notation.Pounds, 0.5},
		{"ideal weight, stock horse", horse, 1171, notation.Pounds, 0.5},
		{"four measures, draft", draft, 772.7, notation.Kilograms, 0.05},
		{"ideal weight, draft", draft, 723.4, notation.Kilograms, 0.05},
		{"four measures, warmblood", warmblood, 574.1, notation.Kilograms, 0.05},
		{"ideal weight, warmblood", warmblood, 575.3, notation.Kilograms, 0.05},
		{"girth and length, horse", warmblood, 527.2, notation.Kilograms, 0.05},
		{"girth alone, foal", weight.Measures{GirthCm: 90}, 65.6, notation.Kilograms, 0.05},
		{"girth alone, foal", weight.Measures{GirthCm: 100}, 90.0, notation.Kilograms, 0.05},
		{"girth alone, foal", weight.Measures{GirthCm: 120}, 155.5, notation.Kilograms, 0.05},
		{"trunk and legs, growing horse", legs(100, 25, 75, 75), 81.5, notation.Kilograms, 0.05},
		{"trunk and legs, growing horse", legs(175, 32, 150, 95), 414.2, notation.Kilograms, 0.05},
		{"girth alone, foal 1 to 4 weeks", weight.Measures{GirthCm: in(40)}, 214, notation.Pounds, 0.5},
		{"girth alone, foal 4 to 13 weeks", weight.Measures{GirthCm: in(40)}, 235.7, notation.Pounds, 0.05},
		{"girth alone, donkey", weight.Measures{GirthCm: 110}, 117.4, notation.Kilograms, 0.05},
		{"girth and elbow length, donkey", elbow(110, 0, 75), 109.1, notation.Kilograms, 0.05},
		{"navel girth and elbow length, young donkey", elbow(0, 100, 65), 62.5, notation.Kilograms, 0.05},
		{"girth and height, donkey", weight.Measures{GirthCm: 115, HeightCm: 105}, 155.9, notation.Kilograms, 0.05},
		{"girth alone, mule", weight.Measures{GirthCm: 150}, 210.3, notation.Kilograms, 0.5},
		{"girth and elbow length, mule", elbow(150, 0, 100), 226, notation.Kilograms, 0.05},
	} {
		got := kg(t, c.id, c.m)
		if c.unit == notation.Pounds {
			got = lb(got)
		}
		assert.InDelta(t, c.want, got, c.delta, c.id)
	}
}

// TestDivisorsInBothUnits: a divisor in inches and pounds times 36.12729 is the
// one in cm and kg; computed from 2.54 cm and 0.45359237 kg, both exact (NIST SP 811).
func TestDivisorsInBothUnits(t *testing.T) {
	for _, c := range []struct {
		id string
		cm float64
	}{
		{"girth and length, weanling", 10116},
		{"girth and length, pony, 299", 10802},
		{"girth and length, yearling", 10874},
		{"girth and length, horse, 330", 11922},
	} {
		got := kg(t, c.id, shoulder(190, 170))
		assert.InDelta(t, c.cm, 190*190*170/got, 0.5, c.id)
	}
	e := weight.Measures{GirthCm: 190, LengthCm: 120, LengthFrom: weight.FromElbow}
	assert.InDelta(t, 8717, 190*190*120/kg(t, "girth and elbow length, horse", e), 1)
}

// TestKinkOfTheGrowingHorse: at V = 0.27 the published pieces meet with a step,
// 295.1 kg below and 289.7 above (computed).
func TestKinkOfTheGrowingHorse(t *testing.T) {
	e := equation(t, "trunk and legs, growing horse")
	require.Len(t, e.Pieces, 2)
	assert.InDelta(t, 295.1, e.Pieces[0].Slope*0.27+e.Pieces[0].Add, 0.05)
	assert.InDelta(t, 289.7, e.Pieces[1].Slope*0.27+e.Pieces[1].Add, 0.05)
}

// TestTapeErrorBecomesWeightError: 1 % of girth is 2 % of weight with G² and
// 2.65 % with the donkey exponent (computed from the exponents).
func TestTapeErrorBecomesWeightError(t *testing.T) {
	m := shoulder(190, 165)
	m.GirthAgainCm = 191
	got, err := equation(t, "girth and length, horse").Sensitivity(weight.Girth, m)
	require.NoError(t, err)
	assert.InDelta(t, 2, got, 1e-3)
	got, err = equation(t, "girth and length, horse").Sensitivity(weight.Length, m)
	require.NoError(t, err)
	assert.InDelta(t, 1, got, 1e-3)
	got, err = equation(t, "girth alone, donkey").Sensitivity(weight.Girth, weight.Measures{GirthCm: 110})
	require.NoError(t, err)
	assert.InDelta(t, 2.65, got, 1e-3)
	_, err = equation(t, "girth alone, donkey").Sensitivity(weight.Girth, weight.Measures{})
	require.Error(t, err)
}
