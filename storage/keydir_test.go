package storage_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// folder reads what a data folder holds, and makes another with the same.
func folderCopy(t *testing.T, dir string) string {
	t.Helper()
	to := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(to, "copy"), os.DirFS(dir)))
	return filepath.Join(to, "copy")
}

// A key kept apart from the record is the machine's: no copy of the folder takes it along,
// and an older copy that is put back with everything in it is noticed.
func TestAKeyApartFromTheRecord(t *testing.T) {
	dir, keys := filepath.Join(t.TempDir(), "record"), filepath.Join(t.TempDir(), "keys")
	with := func(dir, keys string) *storage.Record {
		t.Helper()
		r, err := storage.Open(dir, storage.Options{KeyDir: keys})
		require.NoError(t, err)
		return r
	}
	note := func(r *storage.Record, v exam.VisitID, text string) {
		t.Helper()
		_, err := r.Append(exam.Entry{Visit: v, At: day(), By: "Ann", Kind: exam.EntryNote, Note: text})
		require.NoError(t, err)
	}
	r := with(dir, keys)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	require.NoError(t, r.Close())
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join(dir, storage.FileName)}, names, "nothing but the record")
	older := folderCopy(t, dir)

	// The same copy on another machine: that machine writes under a key of its own.
	elsewhere := with(folderCopy(t, dir), filepath.Join(t.TempDir(), "keys"))
	note(elsewhere, v.ID, "from elsewhere")
	report, err := elsewhere.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%v", report.Broken)
	require.Len(t, report.Writers, 2)
	assert.NotEqual(t, report.Writers[0].Fingerprint, report.Writers[1].Fingerprint)
	require.NoError(t, elsewhere.Close())

	// It goes on here; then the older copy is put back, with all that was in its folder.
	r = with(dir, keys)
	note(r, v.ID, "lost with the older copy")
	require.NoError(t, r.Close())
	require.NoError(t, os.RemoveAll(dir))
	require.NoError(t, os.CopyFS(dir, os.DirFS(older)))
	r = with(dir, keys)
	require.Len(t, r.Missing(), 1, "the older copy is noticed")
	note(r, v.ID, "after it")
	report, err = r.Check(context.Background())
	require.NoError(t, err)
	assert.False(t, report.OK)
	assert.Len(t, report.Writers, 2, "it went on in a new log")
	require.NoError(t, r.Close())
}

// Two copies of one folder, both used on one machine: the second begins a log of its own,
// so that what both wrote comes together.
func TestTwoCopiesOfAFolderOnOneMachine(t *testing.T) {
	dir, keys := filepath.Join(t.TempDir(), "record"), filepath.Join(t.TempDir(), "keys")
	r, err := storage.Open(dir, storage.Options{KeyDir: keys})
	require.NoError(t, err)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	require.NoError(t, r.Close())
	twin := folderCopy(t, dir)
	records := make([]*storage.Record, 2)
	for i, place := range []string{dir, twin} {
		r, err := storage.Open(place, storage.Options{KeyDir: keys})
		require.NoError(t, err)
		_, err = r.Append(exam.Entry{Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryNote, Note: place})
		require.NoError(t, err)
		require.NoError(t, r.Close())
		records[i], err = storage.Open(place, storage.Options{KeyDir: keys})
		require.NoError(t, err)
		defer func() { require.NoError(t, records[i].Close()) }()
	}
	done, err := records[0].Adopt(context.Background(), feed(segmentsOf(t, records[1])))
	require.NoError(t, err)
	assert.Empty(t, done.Aside)
	got, err := records[0].Visit(v.ID)
	require.NoError(t, err)
	assert.Len(t, got.Notes, 2)
}
