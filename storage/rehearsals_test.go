package storage_test

import (
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/storage"
)

func TestRehearsalsKeepWhatEveryStorePromises(t *testing.T) {
	examtest.RunStore(t, func() exam.Store {
		r, _ := newRecord(t)
		return rehearsed(r)
	})
}

func TestRehearsalsAndVisitsAreKeptApart(t *testing.T) {
	r, _ := newRecord(t)
	examtest.RunApart(t, r, r.Rehearsals())
}

func TestAnImportTakesNoRehearsal(t *testing.T) {
	r, _ := newRecord(t)
	first := opened("", day())
	first.Opening.Source = exam.SimulatedSource("colic-quiet-gut", 7, "0123456789ab")
	err := r.Import(context.Background(), []storage.Imported{{
		Horse: exam.Horse{Name: "Bracken", Kind: exam.AnimalHorse}, Entries: [][]exam.Entry{{first}},
	}})
	require.ErrorContains(t, err, "nothing was written")
	list, err := r.Horses()
	require.NoError(t, err)
	assert.Empty(t, list)
}

func TestSettingsAreTheMachinesInBothBooks(t *testing.T) {
	r, _ := newRecord(t)
	require.NoError(t, r.Rehearsals().SaveSettings(exam.Settings{Person: "Ann"}))
	s, err := r.Settings()
	require.NoError(t, err)
	assert.Equal(t, "Ann", s.Person)
}

func TestRehearsalsAreThereAfterARestart(t *testing.T) {
	r, dir := newRecord(t)
	closed, open := fill2(t, rehearsed(r))
	before, err := r.Rehearsals().Visit(closed)
	require.NoError(t, err)
	require.NoError(t, r.Close())
	again := openRecord(t, dir).Rehearsals()
	after, err := again.Visit(closed)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	left, err := again.Unfinished()
	require.NoError(t, err)
	require.Len(t, left, 1)
	assert.Equal(t, open, left[0].ID)
}

// A visit whose rows somebody moves into the other book does not pass for one of that book's.
func TestAVisitMovedIntoTheOtherBookShows(t *testing.T) {
	for _, way := range []struct {
		from, to string
		fill     func(*storage.Record) exam.Store
	}{
		{"", "rehearsal ", realVisits},
		{"rehearsal ", "", rehearsed},
	} {
		r, closed, _ := filled(t, way.fill)
		id := uuid.MustParse(string(closed))
		require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error { return copyBook(tx, way.from, way.to, id[:]) }))
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		var said string
		for _, b := range report.Broken {
			said += b.What + "\n"
		}
		assert.Contains(t, said, "belongs into the other book")
		_, _, err = r.Rebuild(context.Background())
		require.ErrorIs(t, err, exam.ErrDamaged)
		assert.ErrorContains(t, err, "belongs into the other book")
	}
}

// copyBook copies the horses and the lines of one visit, which carry digests of their own.
func copyBook(tx *bbolt.Tx, from, to string, visit []byte) error {
	for _, name := range []string{"horses", "entries"} {
		err := tx.Bucket([]byte(from + name)).ForEach(func(key, row []byte) error {
			if name == "entries" && !bytes.HasPrefix(key, visit) {
				return nil
			}
			return tx.Bucket([]byte(to+name)).Put(bytes.Clone(key), bytes.Clone(row))
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// oldFile unpacks a record as an earlier version wrote it.
func oldFile(t *testing.T, name string) (dir string) {
	t.Helper()
	f, err := os.Open(filepath.Join("testdata", name))
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	data, err := io.ReadAll(z)
	require.NoError(t, err)
	dir = t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, storage.FileName), data, 0o600))
	return dir
}

// schema1.db.gz was written by the last version that had no rehearsals: the
// settings, a pony with an owner's words, a closed visit and an open one.
func TestAnOldFileIsBroughtUpToDate(t *testing.T) {
	dir := oldFile(t, "schema1.db.gz")
	_, err := storage.Open(dir, storage.Options{ReadOnly: true})
	require.ErrorContains(t, err, "open it once for writing")

	r := openRecord(t, dir)
	settings, err := r.Settings()
	require.NoError(t, err)
	assert.Equal(t, "Ann", settings.Person)
	recent, err := r.Recent(0)
	require.NoError(t, err)
	require.Len(t, recent, 2)
	assert.False(t, recent[0].Closed())
	assert.True(t, recent[1].Closed())
	assert.Equal(t, "Bracken", recent[0].Horse.Name)
	entries, err := r.Entries(recent[1].ID)
	require.NoError(t, err)
	assert.Len(t, entries, 10)
	require.True(t, recent[1].OpenedAt.Equal(day()))

	_, err = r.Append(closing(recent[0].ID, day().AddDate(0, 1, 1)))
	require.NoError(t, err, "the old visits go on")
	fill2(t, rehearsed(r))
	require.NoError(t, r.Close())
	again := openRecord(t, dir)
	report, err := again.Check(context.Background())
	require.NoError(t, err)
	assert.Equal(t, storage.Report{Visits: 2, Entries: 31, Rehearsals: 2, Machines: 1, Lines: 4, Signatures: 2, Broken: []storage.Broken{}, OK: true}, report)
}
