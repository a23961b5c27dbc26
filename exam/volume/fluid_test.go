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

// TestFluidExamplesPrinted: MSD Veterinary Manual, fluid needs in dehydrated
// horses: 4 to 10 % of 500 kg are 20 to 50 L, and 50 mL/kg a day are 25 L.
// SAEVA Proceedings 2015: 15 % of 500 kg are 75 L.
func TestFluidExamplesPrinted(t *testing.T) {
	for percent, litres := range map[float64]float64{4: 20, 10: 50, 15: 75} {
		got, err := volume.DeficitL(percent, 500)
		require.NoError(t, err)
		assert.Equal(t, litres, got)
	}
	d, err := volume.FlowByWeight(50, 500, 10)
	require.NoError(t, err)
	assert.InDelta(t, 25000, d.MLPerHour*24, 1e-6)
	for _, bad := range []float64{-1, 16, math.NaN(), math.Inf(1)} {
		_, err = volume.DeficitL(bad, 500)
		require.Error(t, err)
	}
	_, err = volume.DeficitL(5, 0)
	require.Error(t, err)
}

// TestDripExamples: testandcalc.com, flow help, prints 1,500 mL in 12 h at 15
// drops a mL as 31 drops a minute, and 600 mL at 10 drops a mL and 15 drops a
// minute as 400 minutes. The drip by weight is computed.
func TestDripExamples(t *testing.T) {
	d, err := volume.Flow(1500, 15, 12*60)
	require.NoError(t, err)
	assert.Equal(t, 31.0, math.Round(d.DropsPerMin))
	left, err := volume.LeftMinutes(600, 10, 15)
	require.NoError(t, err)
	assert.Equal(t, 400.0, left)

	d, err = volume.FlowByWeight(50, 500, 10) // computed
	require.NoError(t, err)
	assert.Equal(t, 1042.0, math.Round(d.MLPerHour))
	assert.Equal(t, 174.0, math.Round(d.DropsPerMin))
	assert.InDelta(t, 2.9, d.DropsPerSecond, 0.05)
	assert.InDelta(t, 1, d.DropsPerSecond*d.SecondsPerDrop, 1e-9)
	for _, bad := range [][3]float64{{0, 10, 10}, {10, 0, 10}, {10, 10, 0}, {math.NaN(), 10, 10}, {10, 101, 10}, {1e300, 100, 1e-300}} {
		_, err = volume.Flow(bad[0], bad[1], bad[2])
		require.Error(t, err)
	}
	_, err = volume.LeftMinutes(1, 1, 0)
	require.Error(t, err)
}

func lb(v float64) notation.Quantity { return notation.Quantity{Value: v, Unit: notation.Pounds} }

// TestPasteBySteps: a common syringe treats 1,250 lb in marks of 250 lb (label
// text on a retail page); the mark equal to or next above the weight is set.
func TestPasteBySteps(t *testing.T) {
	tube := volume.PasteSyringe{Mark: lb(250), Holds: lb(1250)}
	for weight, want := range map[float64][3]int{ // marks, whole tubes, marks of the next
		1173: {5, 1, 0}, 1250: {5, 1, 0}, 1000: {4, 0, 4}, 1000.5: {5, 1, 0}, 250: {1, 0, 1}, 1251: {6, 1, 1}, 2600: {11, 2, 1},
	} {
		kg, _ := lb(weight).In(notation.Kilograms)
		d, err := volume.SetPaste(volume.Weight{Kg: kg.Value}, tube)
		require.NoError(t, err)
		assert.Equal(t, want, [3]int{d.Marks, d.FullTubes, d.LastMarks}, "%v lb", weight)
		assert.Equal(t, lb(float64(want[0])*250), d.SetTo)
	}
	d, err := volume.SetPaste(volume.Weight{Kg: 500, Method: exam.WeightEye}, tube)
	require.NoError(t, err)
	require.Len(t, d.Warnings, 1)
	for _, bad := range []volume.PasteSyringe{{}, {Mark: lb(250)}, {Mark: lb(300), Holds: lb(1250)}, {Mark: lb(1250), Holds: lb(250)}, {Mark: notation.Quantity{Value: 1, Unit: notation.Inch}, Holds: lb(9)}} {
		_, err = volume.SetPaste(volume.Weight{Kg: 500}, bad)
		require.Error(t, err)
	}
	_, err = volume.SetPaste(volume.Weight{}, tube)
	require.Error(t, err)
}
