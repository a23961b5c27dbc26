package report_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

func page(t *testing.T, entries ...exam.Entry) report.Page {
	t.Helper()
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	all := steps.Table()
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.FixedZone("", 3600))
	first := exam.Entry{Kind: exam.EntryOpened, Opening: &exam.Opening{
		Horse: exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse, Owner: "J. Marlowe", Cautions: []string{"kicks"}}, Routine: "full-exam", Reason: "off feed",
	}}
	list := append([]exam.Entry{first}, entries...)
	var prev exam.Hash
	for i := range list {
		list[i].Visit, list[i].Seq, list[i].Prev, list[i].By = "v", i+1, prev, "Ann"
		list[i].At = at.Add(time.Duration(i) * time.Minute)
		err := exam.Seal(&list[i])
		require.NoError(t, err)
		prev = list[i].Hash
	}
	v, err := exam.Fold(list)
	require.NoError(t, err)
	return report.Page{Visit: v, Entries: list, Verdict: judge.New(table, all).Visit(v, nil), Routine: "Full exam", Steps: all}
}

func temp(v float64) *exam.Value {
	return &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: notation.Celsius}}
}

func TestPageShowsWhatStoodBeforeACorrection(t *testing.T) {
	p := page(t,
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(36.4)},
		exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(39.4), Corrects: 2},
		exam.Entry{Kind: exam.EntryNotDone, Step: "gum.refill", Reason: string(exam.ReasonRefused)},
		exam.Entry{Kind: exam.EntryNote, Step: "temp.rectal", Note: "second thermometer"},
	)
	text := report.Text(p, 80)
	for _, want := range []string{"39.4 C", "36.4 C, by Ann", "horse refused", "second thermometer", "tell the vet", "kicks", "off feed", "+01:00", "no diagnosis"} {
		assert.Contains(t, text, want)
	}
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 80, line)
	}
	d := report.JSON(p)
	require.Len(t, d.Corrected, 1)
	assert.InDelta(t, 36.4, d.Corrected[0].Value.Number.Value, 0)
	assert.Equal(t, "loosebox/show/1", d.Schema)
}

// Golden vector G1 of the counting rules: eleven taps in 15.021 s.
func TestStripDrawsOneStrokeATap(t *testing.T) {
	c := &exam.Count{TapsS: []float64{0, 1.523, 2.981, 4.530, 5.988, 7.512, 9.041, 10.470, 12.013, 13.489, 15.021}, LeadIn: 2}
	lines := report.Strip(c, false, 80)
	require.Len(t, lines, 2, "a second line begins at 15 s")
	all := strings.Join(lines, "")
	assert.Equal(t, 9, strings.Count(all, "|"))
	assert.Equal(t, 2, strings.Count(all, "."))
	assert.Nil(t, report.Strip(nil, false, 80))
	assert.Len(t, report.Strip(c, true, 80), 1)
}

// A weight says by which equation and between what the true one lies; a guess is marked behind its number.
func TestHowAWeightWasFound(t *testing.T) {
	w := func(w exam.Weight) string { return report.How(exam.Value{Weight: &w}) }
	assert.Equal(t, "by girth alone, foal; likely 69 to 84 kg", w(exam.Weight{Method: exam.WeightMeasured, Equation: "girth alone, foal", LowKg: 69.4, HighKg: 83.9}))
	assert.Equal(t, "weight tape; 90 of 100 animals: 446 to 568 kg", w(exam.Weight{Method: exam.WeightTape, LowKg: 446, HighKg: 568, BandPercent: 90}))
	assert.Equal(t, "weight tape; likely 446 to 568 kg", w(exam.Weight{Method: exam.WeightTape, LowKg: 446, HighKg: 568}))
	assert.Equal(t, "scale", w(exam.Weight{Method: exam.WeightScale, LowKg: 495, HighKg: 505}))
	assert.Equal(t, "likely 454 to 714 kg", w(exam.Weight{Method: exam.WeightEye, LowKg: 454.4, HighKg: 714.3}))
}

// The page names danger signs where the veterinarian is told, as text and as JSON; every other form is set from the same blocks.
func TestThePageNamesDangerSigns(t *testing.T) {
	p := page(t,
		exam.Entry{Kind: exam.EntryFinding, Step: "heart.rate", Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: 66, Unit: notation.PerMinute}}},
		exam.Entry{Kind: exam.EntryFinding, Step: "pain.signs", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"rolls"}}},
		exam.Entry{Kind: exam.EntryFinding, Step: "gum.colour", Value: &exam.Value{Kind: exam.KindPick, Words: []string{"pink"}}},
	)
	text := report.Text(p, 80)
	for _, want := range []string{
		"Danger signs from published studies of colic: 2 of 4 seen, 1 not checked", "seen: heart 60 or more, severe or constant pain",
		"not checked: no gut sound in a quadrant", "published: ", "Acta Vet Scand 2015;57:69",
	} {
		assert.Contains(t, strings.Join(strings.Fields(text), " "), want)
	}
	var doc map[string]any
	b, err := json.Marshal(report.JSON(p))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(b, &doc))
	signs := doc["danger_signs"].(map[string]any)
	assert.Equal(t, []any{"heart 60 or more", "severe or constant pain"}, signs["seen"])
	assert.Equal(t, []any{"no gut sound in a quadrant"}, signs["not_looked_at"])
	assert.InDelta(t, 4, signs["of"], 0)
	assert.Contains(t, signs["source"], "Acta Vet Scand")

	calm := page(t, exam.Entry{Kind: exam.EntryFinding, Step: "heart.rate", Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: 36, Unit: notation.PerMinute}}})
	assert.NotContains(t, report.Text(calm, 80), "Danger signs")
	b, err = json.Marshal(report.JSON(calm))
	require.NoError(t, err)
	assert.NotContains(t, string(b), "danger_signs")
}

// Nothing answered is not usual: the level is null then.
func TestAVisitOfWhichNothingIsAnsweredHasNoLevel(t *testing.T) {
	assert.Nil(t, report.JSON(page(t)).Level)
	notDone := page(t, exam.Entry{Kind: exam.EntryNotDone, Step: "gum.refill", Reason: string(exam.ReasonRefused)})
	assert.Nil(t, report.JSON(notDone).Level)
	level := report.JSON(page(t, exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: temp(37.8)})).Level
	require.NotNil(t, level)
	assert.Equal(t, ranges.LevelUsual, *level)
}
