package storage_test

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/storage"
)

func TestACorrectionNamesAnEntryOfTheSameStepAndSite(t *testing.T) {
	r, _ := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	kept := appendAll(t, r, answers(v.ID, 3, day()))
	right := func(of exam.Entry) exam.Entry {
		return exam.Entry{
			Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryFinding, Step: of.Step, Site: of.Site, Corrects: of.Seq,
			Value: &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: 38.1, Unit: notation.Celsius}}, Amend: &exam.Amendment{Why: "read wrong"},
		}
	}
	other := right(kept[0])
	other.Step = "gum.refill"
	side := right(kept[0])
	side.Site = exam.Right
	opening := right(exam.Entry{Seq: 1})
	later := right(kept[0])
	later.Corrects = 99
	negative := right(kept[0])
	negative.Corrects = -1
	note := exam.Entry{Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryNote, Note: "x", Corrects: kept[0].Seq, Step: kept[0].Step, Site: kept[0].Site}
	for name, e := range map[string]exam.Entry{
		"another step": other, "another side": side, "the opening": opening, "one not written yet": later, "a negative one": negative,
		"a finding by a note": note,
	} {
		_, err := r.Append(e)
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), "nothing was saved", name)
	}
	_, err := r.Append(closing(v.ID, day()))
	require.NoError(t, err)
	refused := right(kept[2])
	refused.Kind, refused.Value, refused.Reason = exam.EntryNotDone, nil, string(exam.ReasonUnsafe)
	for _, e := range []exam.Entry{right(kept[0]), right(kept[2]), refused} {
		_, err := r.Append(e)
		require.NoError(t, err, "a finding and a reason correct each other, after the visit is closed too")
	}
	got, err := r.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, 8, got.Entries)
}

func TestWhatIsNoLineOfARecordIsRefused(t *testing.T) {
	r, _ := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	fine := exam.Entry{Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryFinding, Step: "temp.rectal"}
	many := make([]string, 5000)
	for name, change := range map[string]func(*exam.Entry){
		"a kind nobody knows":      func(e *exam.Entry) { e.Kind = "gossip" },
		"an answer without a step": func(e *exam.Entry) { e.Step = "" },
		"nobody's":                 func(e *exam.Entry) { e.By = " \x1b[0m " },
		"without a time":           func(e *exam.Entry) { e.At = time.Time{} },
		"no number": func(e *exam.Entry) {
			e.Value = &exam.Value{Number: &notation.Quantity{Value: math.NaN(), Unit: notation.Celsius}}
		},
		"too many words":  func(e *exam.Entry) { e.Value = &exam.Value{Words: many} },
		"too many taps":   func(e *exam.Entry) { e.Value = &exam.Value{Count: &exam.Count{TapsS: make([]float64, 1e5)}} },
		"too many trials": func(e *exam.Entry) { e.Value = &exam.Value{TrialsS: make([]float64, 5000)} },
	} {
		e := fine
		change(&e)
		_, err := r.Append(e)
		require.Error(t, err, name)
		require.NotErrorIs(t, err, exam.ErrDamaged, name)
		assert.Contains(t, err.Error(), "nothing was saved", name)
	}
	got, err := r.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, v, got, "and leaves no trace")
	_, err = r.SaveHorse(exam.Horse{ID: "not a uuid", Revision: 1, Name: "Moth"}, "Ann", day())
	require.Error(t, err)
	_, err = r.SaveHorse(exam.Horse{Revision: 1, Name: "Moth", Cautions: many}, "Ann", day())
	require.Error(t, err)
}

// Every text that a line or a horse can hold is safe to draw afterwards
// (CWE-150, CVE-2021-42574), and what the caller holds is not changed.
func TestEveryTextIsCleaned(t *testing.T) {
	const hostile = "\x1b[2J\x1b]0;x\x07a\u202e\u009b31m\r\n\xff\u200bb"
	long := hostile + strings.Repeat("w", 10000)
	r, _ := newRecord(t)
	h, err := r.SaveHorse(exam.Horse{
		Revision: 1, Name: long, Kind: hostile, Sex: hostile, Breed: long, Colour: long, Markings: long, Chip: long, UELN: long,
		Owner: long, Place: long, Birth: exam.Birth{Basis: long, Precision: hostile}, Cautions: []string{long}, Reactions: []string{long},
	}, long, day())
	require.NoError(t, err)
	o := opened(h.ID, day())
	o.By, o.Opening.Routine, o.Opening.Reason, o.Opening.Source = long, long, long, long
	v, err := r.Begin(o)
	require.NoError(t, err)
	value := exam.Value{
		Kind: hostile, Number: &notation.Quantity{Value: 1, Unit: hostile}, Typed: long, Words: []string{long}, Text: long,
		Count:  &exam.Count{Method: exam.CountMethod(long), Evenness: exam.Evenness(long)},
		Weight: &exam.Weight{Method: exam.WeighMethod(long), Equation: long, Measures: map[string]notation.Quantity{long: {Value: 1, Unit: hostile}}},
	}
	_, err = r.Append(exam.Entry{
		Visit: v.ID, At: day(), By: long, Kind: exam.EntryFinding, Step: hostile, Site: hostile, Reason: long, Note: long, Value: &value,
	})
	require.NoError(t, err)
	assert.Equal(t, long, value.Words[0], "what the caller holds is its own")
	_, err = r.Append(exam.Entry{
		Visit: v.ID, At: day(), By: long, Kind: exam.EntryContext,
		Context: &exam.Context{States: []exam.State{hostile}, Note: long, Air: &notation.Quantity{Unit: hostile}},
	})
	require.NoError(t, err)
	require.NoError(t, r.SaveSettings(exam.Settings{
		Person: long, Routine: long, Theme: long, Units: map[notation.Unit]notation.Unit{hostile: hostile}, Scatter: map[string]exam.Scatter{long: {}},
	}))
	entries, err := r.Entries(v.ID)
	require.NoError(t, err)
	settings, err := r.Settings()
	require.NoError(t, err)
	text := fmt.Sprintf("%+v %+v %+v", h, settings, *entries[0].Opening)
	for _, e := range entries {
		text += fmt.Sprintf("%+v", e)
		if e.Value != nil {
			text += fmt.Sprintf("%+v %+v %+v %+v", *e.Value, *e.Value.Count, *e.Value.Weight, *e.Value.Number)
		}
		if e.Context != nil {
			text += fmt.Sprintf("%+v %+v", *e.Context, *e.Context.Air)
		}
	}
	for _, c := range text {
		require.False(t, c < 0x20 || c >= 0x7f && c <= 0x9f || c == '\u202e' || c == '\u200b' || c == '\ufffd', "%U is left", c)
	}
	assert.LessOrEqual(t, len(h.Name), notation.MaxLine)
	assert.LessOrEqual(t, len(entries[1].Note), notation.MaxNote)
}

// Whatever fields a line has or will have: none keeps a sign that moves the cursor.
func TestNoFieldOfALineIsForgottenInCleaning(t *testing.T) {
	r, _ := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	var first, later exam.Entry
	fill(reflect.ValueOf(&first).Elem(), new(int), "\x1b[31m\u202e\u0085a")
	fill(reflect.ValueOf(&later).Elem(), new(int), "\x1b[31m\u202e\u0085a")
	first.Kind, first.Corrects, first.Opening.Horse.ID = exam.EntryOpened, 0, h.ID
	// Numbers of other lines must be there.
	first.Settles, later.Settles, first.Apart, later.Apart, first.Unseen, later.Unseen = nil, nil, nil, nil, nil, nil
	first.Injection.Order.Decision, first.Draw.Order.Decision = 0, 0
	later.Injection.Order.Decision, later.Draw.Order.Decision = 2, 2
	v, err := r.Begin(first)
	require.NoError(t, err)
	later.Visit, later.Kind, later.Corrects = v.ID, exam.EntryFinding, 0
	// These three are of a closed set; of the gate's ways this one asks for least.
	o := later.Injection.Order
	later.Injection.Phase, o.Without, o.Route = exam.InjectionGiven, exam.OwnHands, exam.RouteIM
	later.Decision.AfterClosing = false // the visit is open
	_, err = r.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryDecision, By: "Ann", At: later.At, Decision: &exam.Decision{
		Words: "both", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead,
		Covers: []exam.CoveredProcedure{{Kind: exam.Injecting, Product: o.Product, Dose: "1 dose"}, {Kind: exam.Drawing}},
	}})
	require.NoError(t, err)
	_, err = r.Append(later)
	require.NoError(t, err)
	var wild exam.Horse
	fill(reflect.ValueOf(&wild).Elem(), new(int), "\x1b[31m\u202e\u0085a")
	wild.ID, wild.Revision = h.ID, 2
	wild, err = r.SaveHorse(wild, "Ann", day())
	require.NoError(t, err)
	entries, err := r.Entries(v.ID)
	require.NoError(t, err)
	require.NotEmpty(t, entries[2].Value.Weight.Measures)
	text, err := json.Marshal([]any{entries, wild})
	require.NoError(t, err)
	for _, sign := range []string{"\\u001b", "\u202e", "\u0085", "[31m"} {
		assert.NotContains(t, string(text), sign)
	}
}

func TestATimeIsKeptAsItWasOnTheWall(t *testing.T) {
	r, _ := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	odd := time.FixedZone("LMT", 3600+53*60+28) // an offset that RFC 3339 cannot write
	for _, at := range []time.Time{day(), day().UTC(), day().In(time.Local), day().In(odd), time.Now()} {
		v := begin(t, r, h.ID, at)
		assert.True(t, v.OpenedAt.Equal(at))
		if at.Location() != odd {
			assert.Equal(t, at.Format(time.RFC3339Nano), v.OpenedAt.Format(time.RFC3339Nano))
		}
		e, err := r.Append(closing(v.ID, at))
		require.NoError(t, err)
		again, err := r.Visit(v.ID)
		require.NoError(t, err)
		assert.Equal(t, e.At, *again.ClosedAt)
	}
}

func TestManyGoroutinesReadAndWrite(t *testing.T) {
	r, _ := newRecord(t)
	var wg sync.WaitGroup
	errs := make(chan error, 100)
	for i := range 6 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			errs <- writeAndRead(r, fmt.Sprintf("Horse %d", i))
		}()
	}
	wg.Wait()
	close(errs)
	for err := range errs {
		require.NoError(t, err)
	}
	found, err := r.Horses()
	require.NoError(t, err)
	assert.Len(t, found, 6)
}

func writeAndRead(r *storage.Record, name string) error {
	h, err := r.SaveHorse(exam.Horse{Revision: 1, Name: name, Kind: exam.AnimalMule}, "Ann", day())
	if err != nil {
		return err
	}
	for k := range 3 {
		v, err := r.Begin(opened(h.ID, day().AddDate(0, 0, k)))
		if err != nil {
			return err
		}
		for _, e := range append(answers(v.ID, 5, day()), closing(v.ID, day())) {
			if _, err := r.Append(e); err != nil {
				return err
			}
			got, err := r.Visit(v.ID)
			if err != nil {
				return err
			}
			if past, err := r.Past(h.ID, 1); err != nil || past[0].Last != got.Last {
				return fmt.Errorf("past and visit differ: %w", err)
			}
		}
		if _, err := r.Recent(10); err != nil {
			return err
		}
		if _, err := r.Unfinished(); err != nil {
			return err
		}
	}
	return nil
}
