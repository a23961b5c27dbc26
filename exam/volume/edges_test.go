package volume_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// Units of a dose and a strength beside each other: SI prefixes, and the pound
// of NIST SP 811; computed.
func TestEveryUnitOfADose(t *testing.T) {
	for unit, mg := range map[volume.DoseUnit]float64{
		volume.Mg: 2, volume.G: 2000, volume.Mcg: 0.002, volume.MgPerKg: 1000, volume.McgPerKg: 1, volume.GPerKg: 1e6, volume.MgPerLb: 2 * 500 / 0.45359237,
	} {
		assert.InEpsilon(t, mg, volume.Dose{Value: 2, Unit: unit}.Mg(500), 1e-12, unit)
	}
	assert.Zero(t, volume.Dose{Value: 2, Unit: "IU"}.Mg(500))
	for typed, mg := range map[string]float64{"2mg/mL": 2, "2mcg/mL": 0.002, "2 µg/ml": 0.002, "0.2g/mL": 200, "2%": 20, "100%": 1000, "2000mg/mL": 2000} {
		s, err := volume.ParseStrength(typed)
		require.NoError(t, err, typed)
		assert.InEpsilon(t, mg, s.MgPerML(), 1e-12, typed)
	}
	for _, iu := range []string{"5iu", "5u/kg", "5u", "5 units/kg"} {
		_, err := volume.ParseDose(iu)
		require.ErrorContains(t, err, "IU", iu)
	}
	ml, err := volume.ParseML("0mL")
	require.NoError(t, err)
	assert.Zero(t, ml)
}

func TestAnOrderWithAPartMissingIsRefused(t *testing.T) {
	good := func() volume.Order { return order(t, "2mg/kg", "50mg/mL", 500, 20) }
	workOut(t, good())
	for name, spoil := range map[string]func(*volume.Order){
		"no dose":         func(o *volume.Order) { o.Dose.Value = 0 },
		"dose no number":  func(o *volume.Order) { o.Dose.Value = math.NaN() },
		"unit of dose":    func(o *volume.Order) { o.Dose.Unit = "drops" },
		"no strength":     func(o *volume.Order) { o.Strength.Value = 0 },
		"strength unit":   func(o *volume.Order) { o.Strength.Unit = "mg" },
		"strength beyond": func(o *volume.Order) { o.Strength.Value = 2001 },
		"no syringe":      func(o *volume.Order) { o.Syringe.ML = 0 },
		"no mark":         func(o *volume.Order) { o.Syringe.MarkML = 0 },
		"mark too large":  func(o *volume.Order) { o.Syringe.MarkML = 21 },
		"no weight":       func(o *volume.Order) { o.Weight.Kg = 0 },
		"weight beyond":   func(o *volume.Order) { o.Weight.Kg = 1601 },
		"max below":       func(o *volume.Order) { o.MaxPercent = -1 },
		"max beyond":      func(o *volume.Order) { o.MaxPercent = 20.5 },
		"max no number":   func(o *volume.Order) { o.MaxPercent = math.NaN() },
		"dose overflows":  func(o *volume.Order) { o.Dose.Value = math.MaxFloat64 },
		"volume vanishes": func(o *volume.Order) { o.Dose = volume.Dose{Value: 5e-324, Unit: volume.Mg} },
	} {
		o := good()
		spoil(&o)
		_, err := volume.WorkOut(o)
		var r *notation.Refusal
		require.ErrorAs(t, err, &r, name)
	}
	o := good()
	o.MaxPercent = 20
	workOut(t, o)
}

func TestEdgesOfTheWarnings(t *testing.T) {
	o := order(t, "0.1mg", "1mg/mL", 0, 1)
	assert.Empty(t, kinds(workOut(t, o)), "0.1 mL itself is no suspect")
	o = order(t, "60mg", "1mg/mL", 0, 60)
	assert.Empty(t, kinds(workOut(t, o)), "60 mL itself is no suspect and one fill")
	o = order(t, "2mg/kg", "50mg/mL", 480, 20)
	o.Weight.BeforeKg = 400
	o.MaxPercent = 10
	assert.NotContains(t, kinds(workOut(t, o)), volume.MovedWeight, "20 % up is still taken")
	o.Weight.Kg = 320
	assert.NotContains(t, kinds(workOut(t, o)), volume.MovedWeight, "20 % down is still taken")
	o.Weight.Kg = 319
	assert.Contains(t, kinds(workOut(t, o)), volume.MovedWeight)
	o.Weight.LowKg = 300
	d := workOut(t, o)
	assert.Zero(t, d.LowPerKg+d.HighPerKg, "half an error is no error that is known")

	// Rounding by just what is taken: 9.5 to 10 mL is 5.263 %, 19.5 to 20 is 2.564 %.
	o = order(t, "9.5mg", "1mg/mL", 0, 20)
	_, err := volume.WorkOut(o)
	require.Error(t, err)
	o.MaxPercent = 100.0 / 19
	workOut(t, o)
	o.MaxPercent = 5.26
	_, err = volume.WorkOut(o)
	require.Error(t, err)

	// Ten fills are worked out, eleven are a slip.
	o = order(t, "50mg", "1mg/mL", 0, 5)
	assert.Equal(t, 10, workOut(t, o).Fills)
	o.Dose.Value = 50.2
	_, err = volume.WorkOut(o)
	require.ErrorContains(t, err, "tenfold")
	assert.NotContains(t, err.Error(), "tuberculin", "what it does not hold at once is no better")
}

func TestSyringesThatAreNone(t *testing.T) {
	for _, c := range [][2]float64{{0, 1}, {math.Inf(1), 1}, {1001, 1}, {5, 0}, {5, 6}, {5, math.NaN()}, {5, 0.3}, {10, 0.001}} {
		_, err := volume.NewSyringe(c[0], c[1], "x")
		require.Error(t, err, "%v", c)
	}
	for _, c := range [][2]float64{{1000, 1}, {1, 0.001}, {5, 5}, {20, 0.5}} {
		_, err := volume.NewSyringe(c[0], c[1], "x")
		require.NoError(t, err, "%v", c)
	}
}

func TestPasteNeedsBothFigures(t *testing.T) {
	kg := func(v float64) notation.Quantity { return notation.Quantity{Value: v, Unit: notation.Kilograms} }
	for _, tube := range []volume.PasteSyringe{
		{Mark: notation.Quantity{Value: 50, Unit: notation.Inch}, Holds: kg(600)},
		{Mark: kg(50), Holds: notation.Quantity{Value: 600, Unit: notation.Inch}},
		{Mark: kg(0), Holds: kg(600)},
		{Mark: kg(50), Holds: kg(0)},
		{Mark: kg(0.5), Holds: kg(600)},
		{Mark: kg(50), Holds: kg(10)},
		{Mark: kg(50), Holds: kg(math.Inf(1))},
	} {
		_, err := volume.SetPaste(volume.Weight{Kg: 500}, tube)
		require.Error(t, err, "%+v", tube)
	}
	d, err := volume.SetPaste(volume.Weight{Kg: 500}, volume.PasteSyringe{Mark: kg(700), Holds: kg(700)})
	require.NoError(t, err, "a tube of one mark")
	assert.Equal(t, 1, d.FullTubes)
	zero, err := volume.DeficitL(0, 500)
	require.NoError(t, err)
	assert.Zero(t, zero)
}

func TestALimitIsCrossedOnlyBeyondIt(t *testing.T) {
	horse := volume.Animal{Kind: exam.AnimalHorse}
	b, err := volume.BloodOf(horse, 400, 2250, volume.Past{}, noon())
	require.NoError(t, err)
	assert.False(t, limitOf(t, b, 7.5, volume.OfBlood, 7).Over, "7.5 % of 30 L is 2250 mL")
	assert.Empty(t, b.Warnings)
	b, err = volume.BloodOf(horse, 400, 2251, volume.Past{}, noon())
	require.NoError(t, err)
	assert.True(t, limitOf(t, b, 7.5, volume.OfBlood, 7).Over)
	assert.Len(t, b.Warnings, 1)
	past := volume.Past{KnownDays: 14, Draws: []volume.Draw{{At: noon(), ML: 9000}}}
	b, err = volume.BloodOf(horse, 400, 0, past, noon())
	require.NoError(t, err)
	assert.Zero(t, limitOf(t, b, 7.5, volume.OfBlood, 7).LeftML, "never below nothing")
	assert.Equal(t, "no number", volume.Plain(math.NaN()))
	assert.Equal(t, "no number", volume.Plain(math.Inf(-1)))
}
