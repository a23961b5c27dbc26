package storage_test

import (
	"context"
	"errors"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/storage"
)

// day is the invented day on which tests begin; the offset is no whole hour and
// the nanoseconds are odd, so that a time that loses either shows.
func day() time.Time {
	return time.Date(2026, 3, 1, 9, 0, 0, 123456789, time.FixedZone("", 5*3600+45*60))
}

// newRecord opens a record in a folder of its own and checks it when the test ends.
func newRecord(t testing.TB) (*storage.Record, string) {
	t.Helper()
	dir := t.TempDir()
	return openRecord(t, dir), dir
}

func openRecord(t testing.TB, dir string) *storage.Record {
	t.Helper()
	r, err := storage.Open(dir, storage.Options{})
	require.NoError(t, err)
	t.Cleanup(func() {
		defer func() { require.NoError(t, r.Close()) }()
		report, err := r.Check(context.Background())
		if errors.Is(err, storage.ErrNotOpen) {
			return // the test closed it
		}
		require.NoError(t, err)
		require.True(t, report.OK, "%v", report.Broken)
	})
	return r
}

func saveHorse(t testing.TB, r exam.Store, name string) exam.Horse {
	t.Helper()
	h, err := r.SaveHorse(exam.Horse{
		Revision: 1, Name: name, Kind: exam.AnimalPony, Sex: exam.Mare, Cautions: []string{"kicks"},
		Birth: exam.Birth{At: time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC), Precision: exam.BornYear, Basis: "teeth"},
	}, "Ann", day())
	require.NoError(t, err)
	return h
}

func begin(t testing.TB, r exam.Store, h exam.HorseID, at time.Time) exam.Visit {
	t.Helper()
	v, err := r.Begin(opened(h, at))
	require.NoError(t, err)
	return v
}

func opened(h exam.HorseID, at time.Time) exam.Entry {
	return exam.Entry{
		Kind: exam.EntryOpened, At: at, By: "Ann",
		Opening: &exam.Opening{Horse: exam.Horse{ID: h}, Routine: "full", Reason: "yearly check"},
	}
}

// answers are n entries like those of a full exam.
func answers(v exam.VisitID, n int, at time.Time) []exam.Entry {
	list := make([]exam.Entry, n)
	for i := range list {
		e := exam.Entry{Visit: v, At: at.Add(time.Duration(i) * 20 * time.Second), By: "Ann", Kind: exam.EntryFinding}
		e.Step, e.Site = exam.StepID(fmt.Sprintf("step.number%d", i/2)), []exam.Site{exam.Left, exam.Right}[i%2]
		switch i % 6 {
		case 0:
			e.Value = &exam.Value{Kind: exam.KindNumber, Typed: "101.2F", Number: &notation.Quantity{Value: 101.2, Unit: notation.Fahrenheit}}
		case 1:
			count := &exam.Count{Method: exam.CountTapped, LeadIn: 2, HalfWidth: 0.8, Evenness: "even"}
			for k := range 20 {
				count.TapsS = append(count.TapsS, float64(k)*1.3789+0.001*float64(i))
			}
			e.Value = &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: 43.512345, Unit: notation.PerMinute}, Count: count}
		case 2:
			e.Kind, e.Reason = exam.EntryNotDone, string(exam.ReasonRefused)
		default:
			e.Value = &exam.Value{Kind: exam.KindPick, Words: []string{"moist"}, Usual: true}
		}
		list[i] = e
	}
	return list
}

func appendAll(t testing.TB, r exam.Store, list []exam.Entry) []exam.Entry {
	t.Helper()
	for i := range list {
		back, err := r.Append(list[i])
		require.NoError(t, err)
		list[i] = back
	}
	return list
}

func closing(v exam.VisitID, at time.Time) exam.Entry {
	return exam.Entry{Visit: v, At: at, By: "Ann", Kind: exam.EntryClosed}
}

func TestAVisitIsStoredAndReadBack(t *testing.T) {
	r, dir := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	assert.Equal(t, h, v.Horse, "the horse is written into the visit as it is known")
	kept := appendAll(t, r, answers(v.ID, 30, day()))

	check := func(r *storage.Record) {
		t.Helper()
		entries, err := r.Entries(v.ID)
		require.NoError(t, err)
		require.Equal(t, kept, entries[1:len(kept)+1], "Append returns what is read back")
		folded, err := exam.Fold(entries)
		require.NoError(t, err)
		got, err := r.Visit(v.ID)
		require.NoError(t, err)
		require.Equal(t, folded, got)
		past, err := r.Past(h.ID, 0)
		require.NoError(t, err)
		require.Equal(t, []exam.Visit{folded}, past)
		recent, err := r.Recent(5)
		require.NoError(t, err)
		require.Equal(t, []exam.Visit{folded}, recent)
	}
	check(r)
	found, err := r.Horses()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, exam.Found{Horse: h, Visits: 1, LastAt: found[0].LastAt, Open: v.ID}, found[0])
	assert.True(t, found[0].LastAt.Equal(day()))
	open, err := r.Unfinished()
	require.NoError(t, err)
	require.Len(t, open, 1)

	_, err = r.Append(closing(v.ID, day().Add(time.Hour)))
	require.NoError(t, err)
	check(r)
	open, err = r.Unfinished()
	require.NoError(t, err)
	require.Empty(t, open)

	require.NoError(t, r.Close())
	again := openRecord(t, dir)
	check(again)
}

func TestARecordKeepsWhatEveryStorePromises(t *testing.T) {
	fresh := func() exam.Store {
		r, _ := newRecord(t)
		return r
	}
	examtest.RunStore(t, fresh)
	examtest.RunJoined(t, fresh)
}
