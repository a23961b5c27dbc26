package exam_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func sealAll(t *testing.T, entries []exam.Entry) []exam.Entry {
	t.Helper()
	var prev exam.Hash
	for i := range entries {
		entries[i].Visit, entries[i].Seq, entries[i].Prev = "v1", i+1, prev
		err := exam.Seal(&entries[i])
		require.NoError(t, err)
		prev = entries[i].Hash
	}
	return entries
}

func number(v float64, u notation.Unit) *exam.Value {
	return &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: v, Unit: u}}
}

func TestVisitIsTheFoldOfItsEntries(t *testing.T) {
	at := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	horse := exam.Horse{ID: "h1", Name: "Bracken", Kind: exam.AnimalHorse}
	entries := sealAll(t, []exam.Entry{
		{Kind: exam.EntryOpened, At: at, By: "Ann", Opening: &exam.Opening{Horse: horse, Routine: "full"}},
		{Kind: exam.EntryContext, At: at, By: "Ann", Context: &exam.Context{States: []exam.State{exam.StateHot}}},
		{Kind: exam.EntryFinding, At: at, By: "Ann", Step: "temp.rectal", Value: number(38.4, notation.Celsius)},
		{Kind: exam.EntryNotDone, At: at, By: "Ann", Step: "gum.refill", Reason: string(exam.ReasonRefused)},
		{Kind: exam.EntryFinding, At: at, By: "Ann", Step: "temp.rectal", Value: number(101.2, notation.Fahrenheit), Corrects: 3},
		{Kind: exam.EntryClosed, At: at.Add(time.Hour), By: "Ann"},
	})
	v, err := exam.Fold(entries)
	require.NoError(t, err)
	f, ok := v.Finding(exam.Key{Step: "temp.rectal"})
	require.True(t, ok)
	require.Len(t, f.Before, 1)
	assert.Equal(t, 3, f.Before[0].Seq, "the corrected entry stays named")
	assert.Equal(t, "38.4 C", f.Before[0].Value.Number.String(), "and readable")
	assert.Equal(t, "101.2 F", f.Value.Number.String(), "the unit that was typed is kept")
	refused, _ := v.Finding(exam.Key{Step: "gum.refill"})
	assert.Equal(t, exam.ReasonRefused, refused.NotDone)
	assert.True(t, v.Closed())
	assert.True(t, v.Context.Has(exam.StateHot))

	for name, broken := range map[string][]exam.Entry{
		"a line missing": {entries[0], entries[2]},
		"lines swapped":  {entries[0], entries[2], entries[1]},
		"no opening":     entries[1:],
		"nothing":        nil,
	} {
		_, err := exam.Fold(broken)
		require.ErrorIs(t, err, exam.ErrDamaged, name)
	}
}

// A line is stored without the numbers that follow from its place: it names others by
// identity, and gets its numbers back when it is read, whatever they are then.
func TestALineNamesOthersByIdentity(t *testing.T) {
	at := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	written := []exam.Entry{
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryOpened, Opening: &exam.Opening{Routine: "full"}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryFinding, Step: "temp.rectal", Value: number(38.4, notation.Celsius)},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryDecision, Decision: &exam.Decision{Words: "go ahead"}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionReady, Order: &exam.Order{Product: "X", Decision: 3}}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "test", Decision: 3}}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 2, Phase: exam.InjectionReady}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryNote, Formality: &exam.Formality{Control: &exam.Control{Injection: 2, Log: "7"}}},
		{Visit: "v", At: at, By: "Ann", Kind: exam.EntryFinding, Step: "temp.rectal", Value: number(38.1, notation.Celsius), Corrects: 2},
	}
	var writing exam.Numbers
	var bodies [][]byte
	identity := func(i int) exam.Hash { return exam.Hash(fmt.Sprintf("%064d", i+1)) }
	for i, e := range written {
		sealed, err := writing.Identify(e)
		require.NoError(t, err)
		body, err := exam.LineBody(exam.LineEntry, sealed)
		require.NoError(t, err)
		for _, never := range []string{`"number":1`, `"number":2`, `"seq"`, `"prev"`, `"decision":3`, `"injection":1`} {
			assert.NotContains(t, string(body), never)
		}
		bodies = append(bodies, body)
		writing.Next(sealed, identity(i))
	}
	var reading exam.Numbers
	for i, body := range bodies {
		var e exam.Entry
		require.NoError(t, exam.ReadLine(exam.LineEntry, body, &e))
		e = reading.Next(e, identity(i))
		assert.Equal(t, i+1, e.Seq)
		want := written[i]
		assert.Equal(t, want.Corrects, e.Corrects)
		if want.Injection != nil {
			assert.Equal(t, want.Injection.Number, e.Injection.Number)
			if want.Injection.Order != nil {
				assert.Equal(t, want.Injection.Order.Decision, e.Injection.Order.Decision)
			}
		}
		if want.Draw != nil {
			assert.Equal(t, want.Draw.Order.Decision, e.Draw.Order.Decision)
		}
		if want.Watch != nil {
			assert.Equal(t, want.Watch.Injection, e.Watch.Injection)
		}
		if want.Formality != nil {
			assert.Equal(t, want.Formality.Control.Injection, e.Formality.Control.Injection)
		}
	}
	_, err := reading.Identify(exam.Entry{Corrects: 99})
	require.ErrorContains(t, err, "no entry 99")

	// Another laptop's line came between: numbers move on, references do not.
	var again exam.Numbers
	for i, body := range bodies {
		var e exam.Entry
		require.NoError(t, exam.ReadLine(exam.LineEntry, body, &e))
		e = again.Next(e, identity(i))
		if i == 0 {
			again.Next(exam.Entry{Kind: exam.EntryNote, Note: "from elsewhere"}, "elsewhere")
		}
		if written[i].Corrects == 2 {
			assert.Equal(t, 3, e.Corrects)
		}
	}
}

func TestClassOfFollowsAgeAtTheVisit(t *testing.T) {
	at := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	born := func(y, m, d int) exam.Birth {
		return exam.Birth{At: time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC), Precision: exam.BornDay}
	}
	for _, c := range []struct {
		kind  exam.AnimalKind
		birth exam.Birth
		want  ranges.Class
		young bool
	}{
		{exam.AnimalHorse, exam.Birth{At: at.Add(-30 * time.Minute), Precision: exam.BornMinute}, ranges.FoalFirstHour, true},
		{exam.AnimalHorse, born(2026, 6, 1), ranges.FoalFirstDay, true},
		{exam.AnimalHorse, born(2026, 5, 30), ranges.FoalFirstWeek, true},
		{exam.AnimalHorse, born(2026, 5, 20), ranges.FoalFirstMonth, true},
		{exam.AnimalHorse, born(2026, 2, 1), ranges.FoalToSixMonths, true},
		{exam.AnimalHorse, born(2025, 12, 1), ranges.Weanling, false},
		{exam.AnimalHorse, born(2025, 6, 1), ranges.Yearling, false},
		{exam.AnimalPony, born(2023, 6, 1), ranges.TwoThree, false},
		{exam.AnimalPony, born(2022, 6, 1), ranges.Pony, false},
		{exam.AnimalDraft, born(2010, 1, 1), ranges.Draft, false},
		{exam.AnimalMiniature, born(2010, 1, 1), ranges.Miniature, false},
		{exam.AnimalDonkey, born(2026, 5, 30), ranges.DonkeyNewborn, true},
		{exam.AnimalDonkey, born(2025, 1, 1), ranges.DonkeyYoung, false},
		{exam.AnimalDonkey, born(2024, 6, 1), ranges.DonkeyAdult, false},
		{exam.AnimalMule, born(2026, 1, 1), ranges.MuleFoalSixMonths, true},
		{exam.AnimalMule, born(2020, 1, 1), ranges.Mule, false},
		{exam.AnimalHorse, exam.Birth{Precision: exam.BornFoal}, ranges.FoalAgeUnknown, true},
		{exam.AnimalHorse, exam.Birth{Precision: exam.BornAdult}, ranges.AdultLight, false},
		{exam.AnimalHorse, exam.Birth{}, ranges.AdultLight, false},
		{exam.AnimalHorse, born(2027, 1, 1), ranges.AdultLight, false},
		{exam.AnimalHorse, exam.Birth{At: time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC), Precision: exam.BornYear}, ranges.FoalAgeUnknown, true},
	} {
		got := exam.ClassOf(exam.Horse{Kind: c.kind, Birth: c.birth}, at)
		assert.Equal(t, c.want, got.Name, "%s %s", c.kind, c.birth.Show())
		assert.Equal(t, c.young, got.Young, "%s %s", c.kind, c.birth.Show())
		assert.NotEmpty(t, got.Why)
	}
}

// Number bounds: ISO 11784 (38 bits for the national number). UELN examples:
// the scheme's own published examples 250001 00155928M, 372414 001234567 and
// 121212 0078M0234.
func TestChipAndUELN(t *testing.T) {
	for _, good := range []string{"250268500012345", "985 112 003 456 789", "001274877906943", "", "123456789", "ABC1234567"} {
		_, err := exam.ReadChip(good)
		require.NoError(t, err, good)
	}
	for _, bad := range []string{"250274877906944", "25026850001234", "25026850001234X", "555555555555555"} {
		_, err := exam.ReadChip(bad)
		require.Error(t, err, bad)
	}
	for _, good := range []string{"25000100155928M", "372414001234567", "1212120078M0234", "250001-00155928M"} {
		_, err := exam.ReadUELN(good)
		require.NoError(t, err, good)
	}
	for _, bad := range []string{"25000100155928", "A50001001559280", "25000100155928#"} {
		_, err := exam.ReadUELN(bad)
		require.Error(t, err, bad)
	}
}

func TestCleanLineCannotMoveTheCursor(t *testing.T) {
	hostile := []string{
		"\x1b[2J\x1b[31mred", "\u009b31mred", "a\rb", "a\bb", "\u202eabc", "\u2066x\u2069", "\xff\xfe", "a\u200bb",
		"\U000E0041tag", strings.Repeat("w", 10000), "a\u2028b", "\x1b]0;title\x07x", "\U0001F40E horse", "x\x00y", "\x1bPq\x1b\\z",
	}
	for _, text := range hostile {
		got := notation.CleanLine(text, 0)
		assert.LessOrEqual(t, len([]rune(got)), notation.MaxLine)
		assert.NotContains(t, got, "\x1b")
		for _, r := range got {
			assert.True(t, r >= 0x20 && (r < 0x7f || r > 0x9f), "%q keeps %U", text, r)
			assert.False(t, r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069)
		}
		assert.Equal(t, ansi.StringWidth(got), ansi.StringWidth(ansi.Strip(got)))
		assert.Equal(t, got, notation.CleanLine(got, 0), "cleaning twice changes nothing")
	}
	assert.Equal(t, "Søren O'Brien, née Žižka", notation.CleanLine("Søren  O'Brien,\tnée Žižka", 0))
}

func TestReadBirth(t *testing.T) {
	for text, want := range map[string]exam.BirthPrecision{
		"2019-05-04": exam.BornDay, "2019-05": exam.BornMonth, "2019": exam.BornYear, "about 2008": exam.BornEstimated,
		"2026-05-04 03:20": exam.BornMinute, "": exam.BornUnknown, "foal": exam.BornFoal, "adult": exam.BornAdult,
	} {
		b, err := exam.ReadBirth(text, "papers")
		require.NoError(t, err, text)
		assert.Equal(t, want, b.Precision, text)
	}
	for _, bad := range []string{"04/05/2019", "2019-13-01", "2019-02-30", "yesterday"} {
		_, err := exam.ReadBirth(bad, "")
		require.Error(t, err, bad)
	}
}

// A line that names a member twice reads as one thing here and as another there. RFC 7493 (I-JSON) forbids it in section 2.3,
// invalid UTF-8 in 2.1; names that differ in their letters' case are other names.
func TestALineThatCanBeReadInTwoWaysIsRefused(t *testing.T) {
	whole := `{"visit":"018f0000-0000-7000-8000-000000000001","at":"2026-03-02T10:00:00Z","by":"Ann","kind":"note","note":"moist"}`
	var e exam.Entry
	require.NoError(t, exam.ReadLine(exam.LineEntry, []byte("e"+whole), &e))
	assert.Equal(t, "Ann", e.By)
	for _, more := range []string{`,"by":"Bob"}`, `,"note":"tacky"}`, ",\"words\":\"\xff\"}"} {
		var e exam.Entry
		require.ErrorIs(t, exam.ReadLine(exam.LineEntry, []byte("e"+strings.TrimSuffix(whole, "}")+more), &e), exam.ErrDamaged, more)
	}
	e = exam.Entry{}
	require.NoError(t, exam.ReadLine(exam.LineEntry, []byte("e"+strings.TrimSuffix(whole, "}")+`,"BY":"Bob"}`), &e))
	assert.Equal(t, "Ann", e.By)
}
