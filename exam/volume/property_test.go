package volume_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

func drawOrder(t *rapid.T) volume.Order {
	return volume.Order{
		Dose: volume.Dose{
			Value: rapid.Float64Range(0.001, 100).Draw(t, "dose"),
			Unit:  rapid.SampledFrom(notation.MassUnits()).Draw(t, "unit"),
		},
		Strength: volume.Strength{Value: rapid.Float64Range(0.01, 100).Draw(t, "strength"), Unit: rapid.SampledFrom([]string{"mg/mL", "%", "mcg/mL", "g/mL"}).Draw(t, "per")},
		Weight:   volume.Weight{Kg: rapid.Float64Range(3, 1600).Draw(t, "kg")},
		Syringe:  rapid.SampledFrom(volume.Syringes()).Draw(t, "syringe"),
	}
}

// A volume times its strength over the weight gives back the dose; the mark is a
// mark and the nearest one; the change is what it says and never beyond what is taken.
func TestVolumeGivesBackTheDose(t *testing.T) {
	worked := 0
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		if rapid.IntRange(0, 3).Draw(t, "likely") > 0 { // most orders end in a volume that is drawn
			o.Strength = volume.Strength{Value: o.Dose.Mg(o.Weight.Kg) / rapid.Float64Range(1, 40).Draw(t, "ml"), Unit: "mg/mL"}
		}
		d, err := volume.WorkOut(o)
		if err != nil {
			var r *notation.Refusal
			require.ErrorAs(t, err, &r)
			return
		}
		worked++
		assert.InEpsilon(t, o.Dose.Mg(o.Weight.Kg), d.ExactML*o.Strength.MgPerML(), 1e-9)
		assert.InEpsilon(t, d.DeliveredMgPerKg, d.DrawnML*o.Strength.MgPerML()/o.Weight.Kg, 1e-9)
		assert.InDelta(t, d.ChangePercent, (d.DeliveredMg-d.OrderedMg)/d.OrderedMg*100, 1e-6)
		assert.LessOrEqual(t, math.Abs(d.ChangePercent), volume.DefaultMaxPercent+1e-6)
		marks := d.DrawnML / o.Syringe.MarkML
		assert.InDelta(t, math.Round(marks), marks, 1e-6)
		assert.LessOrEqual(t, math.Abs(d.DrawnML-d.ExactML), o.Syringe.MarkML/2*(1+1e-6))
		assert.GreaterOrEqual(t, float64(d.Fills)*o.Syringe.ML, d.DrawnML-1e-9)
	})
	assert.Positive(t, worked)
}

// Pounds and kilograms of the same horse give the same volume.
func TestPoundsAndKilogramsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := drawOrder(t)
		a, errA := volume.WorkOut(o)
		lb, _ := notation.Quantity{Value: o.Weight.Kg, Unit: notation.Kilograms}.In(notation.Pounds)
		kg, _ := lb.In(notation.Kilograms)
		o.Weight.Kg = min(1600, max(3, kg.Value))
		b, errB := volume.WorkOut(o)
		if errA == nil && errB == nil {
			assert.InEpsilon(t, a.ExactML, b.ExactML, 1e-9)
		}
	})
}

// Heavier never means less: of volume, of paste, of drops, of blood.
func TestHeavierNeverMeansLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		light := rapid.Float64Range(3, 1600).Draw(t, "light")
		heavy := rapid.Float64Range(light, 1600).Draw(t, "heavy")
		o := drawOrder(t)
		o.Weight.Kg = light
		a, errA := volume.WorkOut(o)
		o.Weight.Kg = heavy
		b, errB := volume.WorkOut(o)
		if errA == nil && errB == nil {
			assert.GreaterOrEqual(t, b.DrawnML, a.DrawnML)
		}
		tube := volume.PasteSyringe{Mark: notation.Quantity{Value: 50, Unit: notation.Kilograms}, Holds: notation.Quantity{Value: 600, Unit: notation.Kilograms}}
		p, err := volume.SetPaste(volume.Weight{Kg: light}, tube)
		require.NoError(t, err)
		q, err := volume.SetPaste(volume.Weight{Kg: heavy}, tube)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, q.Marks, p.Marks)
		assert.GreaterOrEqual(t, p.SetTo.Value, light-1e-6)
		assert.Less(t, p.SetTo.Value, light+50)
		assert.Equal(t, p.Marks, p.FullTubes*12+p.LastMarks)
	})
}

// Whatever is typed and whatever numbers come in, nothing that comes out is no number.
func FuzzTyped(f *testing.F) {
	for _, seed := range []string{"2.2mg/kg", "50mg/mL", "1%", "500kg", "20mL", "1,000 mg", "NaN", "-1", "9e99mg", "\x1b[2Jmg", "0.000001mcg/kg", "µ"} {
		f.Add(seed, 500.0, 20.0)
	}
	f.Fuzz(func(t *testing.T, text string, kg, ml float64) {
		o := volume.Order{Weight: volume.Weight{Kg: kg}, Syringe: volume.Syringe{ML: ml, MarkML: ml / 20}, MaxPercent: 20}
		o.Strength = volume.Strength{Value: 50, Unit: "mg/mL"}
		d, err := volume.ParseDose(text)
		if err == nil {
			o.Dose = d
		}
		if s, err := volume.ParseStrength(text); err == nil {
			o.Strength, o.Dose = s, volume.Dose{Value: 1, Unit: volume.MgPerKg}
		}
		if q, err := volume.ParseWeight(text); err == nil && !(q.Value > 0) {
			t.Fatalf("%q became a weight of %v", text, q.Value)
		}
		if v, err := volume.ParseML(text); err == nil && !(v >= 0) {
			t.Fatalf("%q became %v mL", text, v)
		}
		out, err := volume.WorkOut(o)
		if err != nil {
			var r *notation.Refusal
			if !errors.As(err, &r) {
				t.Fatalf("%v is no refusal", err)
			}
			return
		}
		for _, v := range []float64{out.OrderedMg, out.ExactML, out.DrawnML, out.DeliveredMg, out.DeliveredMgPerKg, out.ChangePercent} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%q, %v kg, %v mL gave %+v", text, kg, ml, out)
			}
		}
	})
}
