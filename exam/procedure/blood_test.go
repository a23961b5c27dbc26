package procedure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/volume"
)

func TestPastDrawsFeedTheLimits(t *testing.T) {
	end := noon().AddDate(0, 0, -3)
	visits := []exam.Visit{
		{OpenedAt: noon().AddDate(0, 0, -20)},
		{OpenedAt: end, Draws: []exam.Draw{
			{State: exam.DrawDone, VolumeML: 30, EndAt: &end},
			{State: exam.DrawTube, Filled: []exam.Filled{{Tube: exam.Tube{ML: 3}}}, Signed: exam.Signed{At: end}},
			{State: exam.DrawStopped, NotKnown: true, EndAt: &end},
		}},
	}
	past, unsure := procedure.PastDraws(visits, noon())
	assert.InDelta(t, 20, past.KnownDays, 1e-9)
	require.Len(t, past.Draws, 2, "an open draw counts with its tubes")
	assert.InDelta(t, 33, past.Draws[0].ML+past.Draws[1].ML, 1e-9)
	assert.True(t, unsure)
	b, err := volume.BloodOf(volume.Animal{}, 500, 20, past, noon())
	require.NoError(t, err)
	known := false
	for _, l := range b.Limits {
		if l.Days == 14 {
			known = true
			assert.True(t, l.HasDrawn)
			assert.InDelta(t, 33, l.DrawnML, 1e-9)
		}
	}
	assert.True(t, known)
}

// Order of draw: CLSI GP41, as a university laboratory applies it to animals.
func TestPlanIsInOrderOfDraw(t *testing.T) {
	h := exam.Horse{Name: "Bracken", Owner: "J. Marlowe"}
	tubes, _, err := procedure.Plan(h, []exam.TubeKind{exam.TubeEDTA, exam.TubeSerum, exam.TubeHeparin, exam.TubeCitrate}, noon(), "Ann")
	require.NoError(t, err)
	var kinds []exam.TubeKind
	for _, tube := range tubes {
		kinds = append(kinds, tube.Kind)
		for _, want := range []string{"Bracken", "J. Marlowe", "2 Mar 2026 12:00", "Ann"} {
			assert.Contains(t, tube.Label, want)
		}
	}
	assert.Equal(t, []exam.TubeKind{"citrate", "serum", "heparin", "EDTA"}, kinds)
	_, _, err = procedure.Plan(h, []exam.TubeKind{"teacup"}, noon(), "Ann")
	require.Error(t, err)
	why, ok := procedure.InDrawOrder([]exam.Filled{{Tube: exam.Tube{Kind: "EDTA"}}}, "serum")
	assert.False(t, ok)
	assert.Contains(t, why, "serum comes before EDTA")
	_, ok = procedure.InDrawOrder([]exam.Filled{{Tube: exam.Tube{Kind: "serum"}}}, "EDTA")
	assert.True(t, ok)
}

func TestDoseAsOrdered(t *testing.T) {
	for text, want := range map[string]string{"1 dose": "1 dose", "One dose": "1 dose", "2.2mg/kg": "2.2 mg/kg", "1100 mg": "1100 mg", "2 mL": "2 mL", "0.1 ml/kg": "0.1 mL/kg", "5000 units": "5000 IU", "5 iu/kg": "5 IU/kg", "1.5 L": "1500 mL"} {
		got, err := procedure.ReadDose(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got)
	}
	for _, text := range []string{"5", "", "2 kg", "half dose", "2 doses", "2 %", "5 spoons", "\x1b[2Jmg", "38 C", "-2 mg"} {
		_, err := procedure.ReadDose(text)
		var refusal *notation.Refusal
		require.ErrorAs(t, err, &refusal, text)
		assert.NotContains(t, err.Error(), "\x1b")
	}
}
