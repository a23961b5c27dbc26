package volume_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

func order(t *testing.T, dose, strength string, kg, syringe float64) volume.Order {
	t.Helper()
	d, err := volume.ParseDose(dose)
	require.NoError(t, err)
	s, err := volume.ParseStrength(strength)
	require.NoError(t, err)
	syr, err := volume.FindSyringe(syringe, nil)
	require.NoError(t, err)
	return volume.Order{Dose: d, Strength: s, Weight: volume.Weight{Kg: kg}, Syringe: syr}
}

func workOut(t *testing.T, o volume.Order) volume.Drawn {
	t.Helper()
	d, err := volume.WorkOut(o)
	require.NoError(t, err)
	return d
}

// TestDosesPrintedInTheirSource holds the two worked doses of a made-up drug
// that bestvetaustin.com, medical math, prints.
func TestDosesPrintedInTheirSource(t *testing.T) {
	// 20 lb at 5 mg/kg, 10 mg/mL. The source rounds 20 lb to 9.1 kg: 45.5 mg, 4.55 mL, drawn as 4.6.
	d := workOut(t, order(t, "5mg/kg", "10mg/mL", 9.1, 5))
	assert.Equal(t, 45.5, d.OrderedMg)
	assert.Equal(t, 4.55, d.ExactML)
	assert.Equal(t, 4.6, d.DrawnML)
	// With the exact pound the volume is 4.536 mL (computed) and the mark the same.
	d = workOut(t, order(t, "5mg/kg", "10mg/mL", 20*0.45359237, 5))
	assert.InDelta(t, 4.536, d.ExactML, 0.0005)
	assert.Equal(t, 4.6, d.DrawnML)

	// 15 lb at 1 mg/kg, 1 %: 6.8 kg, 10 mg/mL, 0.68 mL.
	o := order(t, "1 mg/kg", "1%", 15*0.45359237, 1)
	assert.Equal(t, 10.0, o.Strength.MgPerML())
	o.Syringe = tuberculin(t)
	d = workOut(t, o)
	assert.Equal(t, 0.68, d.DrawnML)
	assert.Equal(t, "0.68", volume.Plain(d.DrawnML))
}

func tuberculin(t *testing.T) volume.Syringe {
	t.Helper()
	for _, s := range volume.Syringes() {
		if s.MarkML == 0.01 {
			return s
		}
	}
	t.Fatal("no syringe with marks of 0.01 mL")
	return volume.Syringe{}
}

// TestFormsComputed holds volumes computed apart from the program: 500·R/C, and
// the shortcut of 2.2 lb to the kilogram, 0.2 % high.
func TestFormsComputed(t *testing.T) {
	d := workOut(t, order(t, "2.2mg/kg", "50mg/mL", 500, 20))
	assert.Equal(t, 1100.0, d.OrderedMg)
	assert.Equal(t, 22.0, d.ExactML)
	assert.Equal(t, 22.0, d.DrawnML)
	assert.Equal(t, 2, d.Fills)
	assert.Equal(t, 2.2, d.DeliveredMgPerKg)
	assert.Zero(t, d.ChangePercent)
	q, err := volume.ParseWeight("1100lb")
	require.NoError(t, err)
	kg, _ := q.In(notation.Kilograms)
	assert.InDelta(t, 498.95, kg.Value, 0.005)
	assert.InDelta(t, 0.2, (1100/2.2-kg.Value)/kg.Value*100, 0.02)

	// 0.5 mg/lb is 1.1023 mg/kg; 10 mcg/kg is 0.01 mg/kg; 3 g is 3000 mg (SI prefixes; NIST SP 811).
	assert.InDelta(t, 1.1023, volume.Dose{Value: 0.5, Unit: volume.MgPerLb}.Mg(1), 0.00005)
	assert.InDelta(t, 5, volume.Dose{Value: 10, Unit: volume.McgPerKg}.Mg(500), 1e-12)
	assert.InDelta(t, 3000, volume.Dose{Value: 3, Unit: volume.G}.Mg(0), 1e-12)
}

// TestHalfAMarkGoesUp: 5 and over up, under 5 down, once at the end (technician
// course notes, knowt.com), and never up without saying so.
func TestHalfAMarkGoesUp(t *testing.T) {
	o := order(t, "10.5mg", "1mg/mL", 0, 20) // marks of 1 mL
	o.MaxPercent = 10
	d := workOut(t, o)
	assert.Equal(t, 11.0, d.DrawnML)
	assert.Equal(t, volume.RoundedUp, d.Warnings[0].Kind)
	assert.Contains(t, d.Warnings[0].Text, "from 10.5 to 11 mL, +4.8 %")
	o.Dose.Value = 10.49
	d = workOut(t, o)
	assert.Equal(t, 10.0, d.DrawnML)
	assert.Negative(t, d.ChangePercent)
	assert.Empty(t, d.Warnings)
	assert.False(t, d.HasWeight, "a dose in mg needs no weight, and then mg/kg is not known")
}

func TestCoarseMarksAreRefusedWithABetterSyringe(t *testing.T) {
	o := order(t, "0.68mg", "1mg/mL", 0, 20)
	_, err := volume.WorkOut(o)
	var r *notation.Refusal
	require.ErrorAs(t, err, &r)
	assert.Contains(t, r.Why, "+47.06 %")
	assert.Equal(t, "a syringe of 1 mL (marks of 0.1) or 1 mL tuberculin (marks of 0.01) or 3 mL (marks of 0.1)", r.Meant)
	o.Dose.Value = 0.4
	_, err = volume.WorkOut(o)
	require.ErrorAs(t, err, &r)
	assert.Contains(t, r.Why, "nothing at all")
	o.MaxPercent = 50
	_, err = volume.WorkOut(o)
	require.ErrorAs(t, err, &r)
	assert.Contains(t, r.Why, "between 0 and 20 %")
}

func kinds(d volume.Drawn) []volume.WarningKind {
	var out []volume.WarningKind
	for _, w := range d.Warnings {
		out = append(out, w.Kind)
	}
	return out
}

func TestWarnings(t *testing.T) {
	o := order(t, "10mg/kg", "50mg/mL", 500, 60)
	assert.Equal(t, []volume.WarningKind{volume.VeryLarge, volume.SeveralFills}, kinds(workOut(t, o)))
	o = order(t, "0.08mg", "1mg/mL", 0, 1)
	o.Syringe = tuberculin(t)
	assert.Equal(t, []volume.WarningKind{volume.VerySmall}, kinds(workOut(t, o)))

	o = order(t, "2mg/kg", "50mg/mL", 500, 20)
	assert.Empty(t, kinds(workOut(t, o)))
	o.Weight.Method, o.Weight.LowKg, o.Weight.HighKg = exam.WeightEye, 400, 625
	o.Weight.AgeDays, o.Weight.BeforeKg = 61, 400
	d := workOut(t, o)
	assert.Equal(t, []volume.WarningKind{volume.ByEye, volume.OldWeight, volume.MovedWeight}, kinds(d))
	assert.InDelta(t, 1.6, d.LowPerKg, 1e-9, "1000 mg in 625 kg")
	assert.InDelta(t, 2.5, d.HighPerKg, 1e-9, "1000 mg in 400 kg")
	o.Weight.AgeDays, o.Weight.BeforeKg, o.Weight.Method = 60, 500/1.2, exam.WeightScale
	assert.Empty(t, kinds(workOut(t, o)), "60 days and 20 % are still taken")

	o = order(t, "22mg/kg", "1mg/mL", 500, 5)
	_, err := volume.WorkOut(o)
	require.ErrorContains(t, err, "tenfold")
}

func TestWhatIsTypedIsNotGuessedAt(t *testing.T) {
	for typed, want := range map[string]string{
		"5": "5 mg/kg or 5 mg", "1,000mg": "could be 1000 or 1;", "1.100 mg": "1100 or 1.1", "5 IU/kg": "IU", "5000iu": "IU",
		"5mL": "ordered volume", "0mg": "above zero", "mg": "number", "-5mg": "number", "5 mg/kg/day": "no unit of a dose",
		"1.2.3mg": "more than one", "": "number", "NaNmg": "number", "1e9mg": "no unit", "٥mg": "number",
	} {
		_, err := volume.ParseDose(typed)
		var r *notation.Refusal
		require.ErrorAs(t, err, &r, typed)
		assert.Contains(t, r.Error(), want, typed)
	}
	for typed, want := range map[string]volume.Dose{
		"2.2mg/kg": {Value: 2.2, Unit: volume.MgPerKg}, "2,2 MG / KG": {Value: 2.2, Unit: volume.MgPerKg}, ".5 mg per kg": {Value: 0.5, Unit: volume.MgPerKg},
		"10µg/kg": {Value: 10, Unit: volume.McgPerKg}, "1.125 g": {Value: 1.125, Unit: volume.G}, "0,125mg": {Value: 0.125, Unit: volume.Mg},
	} {
		d, err := volume.ParseDose(typed)
		require.NoError(t, err, typed)
		assert.Equal(t, want, d, typed)
	}
	assert.Equal(t, "0.5 mg/kg", volume.Dose{Value: 0.5, Unit: volume.MgPerKg}.Text(), "a zero before the point")
	for typed, want := range map[string]string{"50": "50 mg/mL or 50 %", "150%": "150 mg/mL", "50mg": "no unit of a strength", "2001mg/mL": "look at the label", "0%": "above zero"} {
		_, err := volume.ParseStrength(typed)
		require.ErrorContains(t, err, want, typed)
	}
	for typed, want := range map[string]string{"500": "500 kg or 500 lb", "500cm": "no unit of a weight", "2kg": "not possible", "5000kg": "not possible"} {
		_, err := volume.ParseWeight(typed)
		require.ErrorContains(t, err, want, typed)
	}
	ml, err := volume.ParseML("1.5 L")
	require.NoError(t, err)
	assert.Equal(t, 1500.0, ml)
	_, err = volume.ParseML("20")
	require.ErrorContains(t, err, "20 mL or 20 L")
}

func TestNumbersBesideANeedle(t *testing.T) {
	for v, want := range map[float64]string{
		0.5: "0.5", 5: "5", 5.0001: "5", 4.55: "4.55", 22.727272: "22.73", 1100: "1100", 12345.6: "12346", 0.00012346: "0.0001235",
		0: "0", -0.25: "-0.25", 100: "100",
	} {
		assert.Equal(t, want, volume.Plain(v))
	}
}

func TestWorkingShowsEveryStep(t *testing.T) {
	o := order(t, "1mg/kg", "1%", 6.80388555, 1)
	o.Syringe, o.Weight.AsTyped, o.Weight.Method = tuberculin(t), notation.Quantity{Value: 15, Unit: notation.Pounds}, exam.WeightScale
	text := strings.Join(workOut(t, o).Working, "\n")
	assert.Equal(t, "weight 15 lb x 0.45359237 = 6.804 kg, scale\nordered 1 mg/kg x 6.804 kg = 6.804 mg\n1 % = 10 mg/mL\n"+
		"6.804 mg / 10 mg/mL = 0.6804 mL exactly\nsyringe of 1 mL, marks of 0.01 mL: draw 0.68 mL", text)
}

func TestSyringesOfThePractice(t *testing.T) {
	table, err := volume.ReadSyringes(strings.NewReader("ml,mark_ml,name\n# ours\n20,0.5,20 mL, fine marks\n"), "syringes.csv")
	require.Error(t, err, "a comma too many")
	assert.Nil(t, table)
	table, err = volume.ReadSyringes(strings.NewReader("ml,mark_ml,name\n20,0.5,20 mL fine\n"), "syringes.csv")
	require.NoError(t, err)
	s, err := volume.FindSyringe(20, table)
	require.NoError(t, err)
	assert.Equal(t, 0.5, s.MarkML)
	_, err = volume.ReadSyringes(strings.NewReader("ml,mark_ml,name\n20,0.3,odd\n5,x,none\n0,1,none\n"), "syringes.csv")
	require.ErrorContains(t, err, "syringes.csv:2")
	require.ErrorContains(t, err, "syringes.csv:3")
	require.ErrorContains(t, err, "syringes.csv:4")
	_, err = volume.ReadSyringes(strings.NewReader("size\n"), "syringes.csv")
	require.Error(t, err)
	_, err = volume.FindSyringe(25, nil)
	require.ErrorContains(t, err, "1, 3, 5, 6, 10, 12, 20, 35, 60 mL")
}

// The last weight of the record comes with how and when it was found, and the one before it; a visit without one, a
// refusal and a weight that no horse has are passed over.
func TestKnownWeight(t *testing.T) {
	at := func(days int) time.Time { return noon().AddDate(0, 0, -days) }
	weighed := func(days int, v exam.Value) exam.Visit {
		return exam.Visit{OpenedAt: at(days), Findings: []exam.Finding{{Step: "weight.body", At: at(days), Value: v}}}
	}
	kg := func(v float64) *notation.Quantity { return &notation.Quantity{Value: v, Unit: notation.Kilograms} }
	w := volume.Known([]exam.Visit{
		{OpenedAt: at(1)},
		{OpenedAt: at(2), Findings: []exam.Finding{{Step: "weight.body", NotDone: exam.ReasonRefused}}},
		weighed(3, exam.Value{Number: kg(5000)}),
		weighed(70, exam.Value{Number: &notation.Quantity{Value: 1100, Unit: notation.Pounds}, Weight: &exam.Weight{Method: exam.WeightEye, LowKg: 450, HighKg: 700}}),
		weighed(400, exam.Value{Number: kg(380)}), weighed(500, exam.Value{Number: kg(300)}),
	}, noon())
	assert.InDelta(t, 1100*0.45359237, w.Kg, 1e-9)
	assert.Equal(t, exam.WeightEye, w.Method)
	assert.Equal(t, [2]float64{450, 700}, [2]float64{w.LowKg, w.HighKg})
	assert.InDelta(t, 70, w.AgeDays, 1e-9)
	assert.InDelta(t, 380, w.BeforeKg, 0)
	var kinds []volume.WarningKind
	for _, warning := range w.Warnings() {
		kinds = append(kinds, warning.Kind)
	}
	assert.Equal(t, []volume.WarningKind{volume.ByEye, volume.OldWeight, volume.MovedWeight}, kinds)
	assert.Zero(t, volume.Known(nil, noon()))
}

func TestASmallShareIsSaidAsSuch(t *testing.T) {
	assert.Equal(t, "under 0.01", volume.Share(0.0025))
	assert.Equal(t, "0.1", volume.Share(0.09858))
	assert.Equal(t, "0", volume.Share(0))
	assert.Equal(t, "8.8", volume.Share(8.801))
}
