package main

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// wroteOfEverything is a visit with whatever an exam writes down that comes back out of a document: what stood before
// corrections, before the closing and after, what was added later, notes, how things were measured, medicine, past doses,
// two answers that nobody has settled, bounds, marks, a score, a guess.
func wroteOfEverything() []exam.Entry {
	at := time.Date(2026, 2, 20, 8, 0, 0, 0, time.FixedZone("", -6*3600))
	minute := 0
	next := func(e exam.Entry) exam.Entry {
		minute++
		e.At = at.Add(time.Duration(minute) * time.Minute)
		if e.By == "" {
			e.By = "Ann Bell"
		}
		return e
	}
	number := func(kind exam.StepKind, v float64, u notation.Unit) *exam.Value {
		return &exam.Value{Kind: kind, Number: &notation.Quantity{Value: v, Unit: u}}
	}
	pulse := number(exam.KindCount, 41.37291, notation.PerMinute)
	pulse.Count = &exam.Count{Method: exam.CountTapped, TapsS: []float64{0, 1, 2, 3}, HalfWidth: 0.23, Evenness: "even"}
	refill := number(exam.KindTime, 0.8500000001, notation.Seconds)
	refill.TrialsS = []float64{0.8, 0.9}
	under := number(exam.KindTime, 3, notation.Seconds)
	under.Bound = exam.AtLeast
	guess := number(exam.KindWeight, 500, notation.Kilograms)
	guess.Weight = &exam.Weight{Method: exam.WeightEye, LowKg: 400, HighKg: 600}
	late := at.Add(26 * time.Hour)
	happened := at.Add(3 * time.Hour)
	return []exam.Entry{
		next(exam.Entry{Kind: exam.EntryOpened, Opening: &exam.Opening{Routine: "five-minute-check", Reason: "off its feed"}}),
		next(exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{States: []exam.State{exam.StateWorked, exam.StateHot}, Medicines: []exam.Medicine{exam.ForPain}, Given: "Product A, 10 mL at 6:00"}}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Value: number(exam.KindNumber, 101.2, notation.Fahrenheit)}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "temp.rectal", Corrects: 3, Value: number(exam.KindNumber, 102.1, notation.Fahrenheit)}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "heart.rate", Value: pulse, Note: "stood well"}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "breath.rate", Value: number(exam.KindCount, 12, notation.PerMinute)}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "breath.rate", By: "Ben Cole", Apart: []int{6}, Value: number(exam.KindCount, 28, notation.PerMinute)}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "gum.refill", Value: refill}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "skin.tent", Value: under}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "weight.body", Value: guess}),
		next(exam.Entry{Kind: exam.EntryFinding, Step: "heart.murmur", Site: "left", Value: &exam.Value{Kind: exam.KindScale, Words: []string{"3"}, Number: &notation.Quantity{Value: 3, Unit: notation.Points}}}),
		next(exam.Entry{Kind: exam.EntryNotDone, Step: "gum.colour", Reason: string(exam.ReasonUnsafe)}),
		next(exam.Entry{Kind: exam.EntryNotDone, Step: "heart.rhythm", Reason: "the rain was too loud"}),
		next(exam.Entry{Kind: exam.EntryNote, Note: "restless, looked at its flank twice"}),
		next(exam.Entry{Kind: exam.EntryNote, Note: "counted at the left", Step: "heart.rate"}),
		next(exam.Entry{Kind: exam.EntryInjection, By: "Ben Cole", Injection: &exam.InjectionLine{
			Number: 1, Phase: exam.InjectionNoted, On: "2025-11", Basis: "passport", Order: &exam.Order{Product: "Vaccine B", Against: []string{"tetanus"}, NextDue: "2026-11-01", Dose: "1 mL"},
		}}),
		next(exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{
			Number: 2, Phase: exam.InjectionNoted, On: "2024", Basis: "owner says", SeriesDone: true, Order: &exam.Order{Product: "Vaccine C", Lot: "none", Against: []string{"rabies"}},
		}}),
		next(exam.Entry{Kind: exam.EntryClosed, WithoutHandOff: "the veterinarian was there"}),
		{Kind: exam.EntryFinding, At: late, By: "Ann Bell", Step: "heart.rate", Corrects: 5, Amend: &exam.Amendment{Why: "typed for another horse"}, Value: number(exam.KindCount, 44, notation.PerMinute)},
		{Kind: exam.EntryAdded, At: late.Add(time.Minute), By: "Ben Cole", Step: "gut.sounds", Site: "left upper", Amend: &exam.Amendment{Why: "forgotten", Happened: &happened}, Value: &exam.Value{Kind: exam.KindPick, Words: []string{"heard"}}},
		{Kind: exam.EntryAdded, At: late.Add(2 * time.Minute), By: "Ben Cole", Note: "ate in the evening", Amend: &exam.Amendment{Why: "seen later"}},
	}
}

// What export writes as FHIR is read into an empty record, and written again it is the same, to the byte: every identity,
// every answer and how it was taken. An unfinished visit and a void one do not come in, and are named.
func TestFHIROutInAndOutIsTheSame(t *testing.T) {
	t.Parallel()
	first, second := t.TempDir(), t.TempDir()
	horse := exam.Horse{
		Name: "Sorrel", Kind: exam.AnimalHorse, Sex: exam.Filly, Chip: "985141000123456", Owner: "J. Marsh", Cautions: []string{"kicks"},
		Birth: exam.Birth{At: time.Date(2023, 5, 4, 3, 40, 0, 0, time.UTC), Precision: exam.BornMinute},
	}
	open := []exam.Entry{{Kind: exam.EntryOpened, At: importDay().Add(-time.Hour), By: "Ann Bell", Opening: &exam.Opening{Routine: "full-exam"}}}
	withRecord(t, first, func(r *storage.Record) {
		for key, text := range map[exam.SettingKey]string{exam.SettingName: "Hill Practice", exam.SettingAddress: "1 Lane", exam.SettingPhone: "555"} {
			require.NoError(t, r.SaveSetting(exam.Setting{Key: key, Value: []byte(text), By: "Ann", At: importDay()}))
		}
		require.NoError(t, r.Import(context.Background(), []storage.Imported{{Horse: horse, Entries: [][]exam.Entry{wroteOfEverything(), open}}}))
		v, err := r.Recent(0)
		require.NoError(t, err)
		require.Len(t, v, 2)
	})
	out, again, rest := filepath.Join(t.TempDir(), "out.ndjson"), filepath.Join(t.TempDir(), "again.ndjson"), filepath.Join(t.TempDir(), "rest.json")
	code, _, said := runIn(first, "", "export", "--as", "fhir", "-o", out)
	require.Equal(t, exitDone, code, said)
	code, report, said := runIn(second, "", "import", out, "--by", "Cleo", "--rest", rest)
	require.Equal(t, exitDone, code, said)
	assert.Contains(t, report, "1 new horses, 0 known; 1 visits with 13 answers, 2 past doses")
	assert.Contains(t, report, "is not finished there")
	code, _, said = runIn(second, "", "export", "--as", "fhir", "-o", again)
	require.Equal(t, exitDone, code, said)
	want, got := documents(t, out), documents(t, again)
	require.Len(t, want, 2)
	require.Len(t, got, 1)
	for id, text := range got {
		assert.JSONEq(t, want[id], text)
		assert.Equal(t, want[id], text, "to the byte")
	}
	for _, v := range visitsIn(t, second) {
		f, _ := v.Finding(exam.Key{Step: "breath.rate"})
		assert.True(t, f.Disputed(), "both answers stand until somebody settles them")
		assert.Len(t, v.Unsettled(), 1)
		assert.Equal(t, "five-minute-check", v.Routine)
	}
	code, _, said = runIn(second, "", "import", out, "--by", "985141000123456")
	assert.Equal(t, exitUsage, code)
	assert.Contains(t, said, "--by needs a letter", "a chip that was read is no name")
	code, _, said = runIn(second, "", "settle")
	require.Equal(t, exitDone, code, said)
	code, report, said = runIn(second, "", "import", out, "--by", "Cleo")
	require.Equal(t, exitDone, code, said)
	assert.Contains(t, report, "0 visits with 0 answers, 0 past doses: saved in the record. Skipped, in the record already: 1")
}

// An export holds no more than the visits of a few horses at once: they come horse by horse, a horse's oldest first, and
// each is what show writes of it.
func TestFHIRComesHorseByHorse(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	visit := func(day int) []exam.Entry {
		at := importDay().AddDate(0, 0, day)
		return []exam.Entry{
			{Kind: exam.EntryOpened, At: at, By: "Ann Bell", Opening: &exam.Opening{Routine: "five-minute-check"}},
			{Kind: exam.EntryFinding, At: at.Add(time.Minute), By: "Ann Bell", Step: "heart.rate", Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: float64(40 + day), Unit: notation.PerMinute}}},
			{Kind: exam.EntryClosed, At: at.Add(time.Hour), By: "Ann Bell", WithoutHandOff: "the veterinarian was there"},
		}
	}
	var order []exam.VisitID
	withRecord(t, dir, func(r *storage.Record) {
		require.NoError(t, r.Import(context.Background(), []storage.Imported{
			{Horse: exam.Horse{Name: "Alder", Kind: exam.AnimalHorse}, Entries: [][]exam.Entry{visit(0), visit(4)}},
			{Horse: exam.Horse{Name: "Birch", Kind: exam.AnimalPony}, Entries: [][]exam.Entry{visit(1), visit(3)}},
		}))
		horses, err := r.Horses()
		require.NoError(t, err)
		for _, h := range horses {
			past, err := r.Past(h.Horse.ID, 0)
			require.NoError(t, err)
			require.Len(t, past, 2)
			order = append(order, past[1].ID, past[0].ID)
		}
	})
	out := filepath.Join(t.TempDir(), "out.ndjson")
	code, _, said := runIn(dir, "", "export", "--as", "fhir", "-o", out)
	require.Equal(t, exitDone, code, said)
	b, err := os.ReadFile(out)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(b)), "\n")
	require.Len(t, lines, len(order))
	for i, id := range order {
		code, shown, said := runIn(dir, "", "show", string(id), "--as", "fhir")
		require.Equal(t, exitDone, code, said)
		assert.JSONEq(t, shown, lines[i])
	}
}

// documents are those of a file, by the visit that they are of.
func documents(t *testing.T, file string) map[string]string {
	t.Helper()
	b, err := os.ReadFile(file) //nolint:gosec // a file of the test
	require.NoError(t, err)
	out := map[string]string{}
	for line := range strings.Lines(string(b)) {
		var d struct {
			Entry []struct{ Resource json.RawMessage }
		}
		require.NoError(t, json.Unmarshal([]byte(line), &d))
		var c struct{ Identifier struct{ Value string } }
		require.NoError(t, json.Unmarshal(d.Entry[0].Resource, &c))
		out[c.Identifier.Value] = line
	}
	return out
}
