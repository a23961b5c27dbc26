package volume_test

import (
	"math"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/volume"
	"loosebox/ranges"
)

func noon() time.Time { return time.Date(2026, 5, 20, 12, 0, 0, 0, time.UTC) }

func limitOf(t *testing.T, b volume.Blood, percent float64, of volume.Base, days float64) volume.LimitState {
	t.Helper()
	for _, l := range b.Limits {
		if l.Percent == percent && l.Of == of && l.Days == days {
			return l
		}
	}
	t.Fatalf("no limit of %v %% of %s in %v days", percent, of, days)
	return volume.LimitState{}
}

// TestBloodExamplesPrinted: Montana State University prints for a horse of 400
// kg 30 L of blood, 3 L of it at 10 %.
func TestBloodExamplesPrinted(t *testing.T) {
	b, err := volume.BloodOf(volume.Animal{Kind: exam.AnimalHorse}, 400, 0, volume.Past{}, noon())
	require.NoError(t, err)
	assert.Equal(t, 30000.0, b.VolumeML)
	assert.Equal(t, 3000.0, limitOf(t, b, 10, volume.OfBlood, 14).ML)
	// The rule of 1 % of body weight is 10 mL a kg (Pennsylvania State University).
	assert.Equal(t, 4000.0, limitOf(t, b, 1, volume.OfBody, 14).ML)
}

// TestBloodComputed: 76 mL/kg gives 15.2, 30.4, 38.0 and 53.2 L; a foal of 15 kg
// at about 100 mL/kg has 112 mL at 7.5 %. Both are computed, from rows of the table.
func TestBloodComputed(t *testing.T) {
	var table, foal volume.BloodType
	for _, row := range volume.BloodTypes() {
		if row.MLPerKg == 76 {
			table = row
		}
	}
	for kg, litres := range map[float64]float64{200: 15.2, 400: 30.4, 500: 38.0, 700: 53.2} {
		assert.InDelta(t, litres, table.MLPerKg*kg/1000, 1e-9)
	}
	foal = volume.BloodTypeFor(volume.Animal{Kind: exam.AnimalHorse, Young: true})
	assert.InDelta(t, 112.5, foal.MLPerKg*15*0.075, 1.2)
	b, err := volume.BloodOf(volume.Animal{Kind: exam.AnimalMiniature, Young: true}, 15, 85, volume.Past{KnownDays: 1000}, noon())
	require.NoError(t, err)
	assert.InDelta(t, 78.75, limitOf(t, b, 7.5, volume.OfBlood, 7).ML, 1e-9, "70 mL/kg, no published figure for miniatures")
	require.Len(t, b.Warnings, 1)
	assert.Contains(t, b.Warnings[0], "ask the veterinarian first")
	assert.InDelta(t, 85/1050.0*100, b.DrawPercent, 1e-9)
}

func TestEachKindHasItsOwnBlood(t *testing.T) {
	for _, c := range []struct {
		a        volume.Animal
		ml       float64
		evidence ranges.Evidence
	}{
		{volume.Animal{Kind: exam.AnimalHorse}, 75, ranges.Published},
		{volume.Animal{Kind: exam.AnimalHorse, Breed: "Thoroughbred"}, 100, ranges.PracticePage},
		{volume.Animal{Kind: exam.AnimalHorse, Breed: "Percheron cross"}, 65, ranges.PracticePage},
		{volume.Animal{Kind: exam.AnimalDraft}, 65, ranges.PracticePage},
		{volume.Animal{Kind: exam.AnimalHorse, Young: true, Breed: "Thoroughbred"}, 101, ranges.Published},
		{volume.Animal{Kind: exam.AnimalDonkey}, 70, ranges.FromMemory},
		{volume.Animal{Kind: exam.AnimalMule}, 70, ranges.FromMemory},
		{volume.Animal{Kind: exam.AnimalPony}, 70, ranges.FromMemory},
		{volume.Animal{Kind: exam.AnimalMiniature, Young: true}, 70, ranges.FromMemory},
		{volume.Animal{Kind: exam.AnimalDraft, Young: true}, 70, ranges.FromMemory},
	} {
		row := volume.BloodTypeFor(c.a)
		assert.Equal(t, c.ml, row.MLPerKg, c.a)
		assert.Equal(t, c.evidence, row.Evidence, c.a)
	}
}

func TestSumOfTheLastDays(t *testing.T) {
	ago := func(days float64, ml float64) volume.Draw {
		return volume.Draw{At: noon().Add(-time.Duration(days * 24 * float64(time.Hour))), ML: ml}
	}
	past := volume.Past{KnownDays: 14, Draws: []volume.Draw{
		ago(0.5, 10), ago(1.5, 20), ago(7, 40), ago(7.01, 80), ago(14, 160), ago(14.01, 320), ago(-0.1, 1), {At: noon(), ML: math.NaN()}, {At: noon(), ML: -5},
	}}
	b, err := volume.BloodOf(volume.Animal{Kind: exam.AnimalHorse}, 500, 0, past, noon())
	require.NoError(t, err)
	assert.Equal(t, 11.0, limitOf(t, b, 1, volume.OfBody, 1).DrawnML, "a draw dated later makes no room")
	assert.Equal(t, 71.0, limitOf(t, b, 7.5, volume.OfBlood, 7).DrawnML)
	l := limitOf(t, b, 10, volume.OfBlood, 14)
	assert.Equal(t, 311.0, l.DrawnML)
	assert.Equal(t, 3750-311.0, l.LeftML)
	assert.False(t, limitOf(t, b, 20, volume.OfBlood, 30).HasDrawn, "nothing is known of day 15 to 30")
}

func TestImpossibleDrawsAreRefused(t *testing.T) {
	for _, c := range [][2]float64{{0, 10}, {2000, 10}, {math.NaN(), 10}, {500, -1}, {500, math.NaN()}, {500, math.Inf(1)}, {50, 9000}} {
		_, err := volume.BloodOf(volume.Animal{Kind: exam.AnimalHorse}, c[0], c[1], volume.Past{}, noon())
		var r *notation.Refusal
		require.ErrorAs(t, err, &r, "%v", c)
	}
}

func TestEveryRowNamesItsSource(t *testing.T) {
	for _, row := range volume.BloodTypes() {
		assert.NotEmpty(t, row.Source, row.Whom)
		assert.NotEmpty(t, row.Evidence, row.Whom)
	}
	for _, l := range volume.BloodLimits() {
		assert.NotEmpty(t, l.Source, l.Percent)
		assert.NotEmpty(t, l.Evidence, l.Percent)
	}
	for _, s := range volume.Syringes() {
		assert.NotEmpty(t, s.Source, s.Name)
		assert.InDelta(t, math.Round(s.ML/s.MarkML), s.ML/s.MarkML, 1e-9, s.Name)
	}
}

// TestOrderOfDraw: CLSI GP41 as quoted by a university laboratory for animals:
// blood culture, citrate, serum, heparin, EDTA, fluoride.
func TestOrderOfDraw(t *testing.T) {
	want := []exam.TubeKind{"blood culture", "citrate", "serum", "heparin", "EDTA", "fluoride"}
	for i, tube := range volume.BloodTubes() {
		assert.Equal(t, want[i], tube.Kind)
		assert.Equal(t, i+1, tube.Order)
		for _, text := range []string{tube.Cap, tube.For, tube.Fill, tube.Mix, tube.Source, string(tube.Evidence)} {
			assert.NotEmpty(t, text, tube.Kind)
		}
	}
	tubes, err := volume.InOrder([]exam.TubeKind{"edta", "Serum", " citrate", "serum"})
	require.NoError(t, err)
	var got []exam.TubeKind
	for _, tube := range tubes {
		got = append(got, tube.Kind)
	}
	assert.Equal(t, []exam.TubeKind{"citrate", "serum", "serum", "EDTA"}, got)
	_, err = volume.InOrder([]exam.TubeKind{"pink"})
	require.ErrorContains(t, err, "blood culture, citrate")
}

func TestLabel(t *testing.T) {
	h := exam.Horse{Name: "Bracken\x1b[2J", Owner: strings.Repeat("long ", 30), Chip: "001098106123456"}
	lines := volume.Label(h, exam.TubeEDTA, noon(), "")
	text := strings.Join(lines, "\n")
	assert.Contains(t, text, "horse: Bracken\n")
	assert.Contains(t, text, "drawn: 20 May 2026 12:00\ntube: EDTA\nby: ________")
	for _, line := range lines {
		assert.LessOrEqual(t, utf8.RuneCountInString(line), 40)
	}
}
