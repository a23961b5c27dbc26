package storage_test

import (
	"compress/gzip"
	"context"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	require.ErrorContains(t, err, "nothing was saved")
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
	require.ErrorContains(t, err, "Open it once for writing")

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
	require.True(t, report.OK, "%v", report.Broken)
	assert.Equal(t, []int{2, 31, 2, 1}, []int{report.Visits, report.Entries, report.Rehearsals, report.Machines})
}
