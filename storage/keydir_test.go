package storage_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/signedlog"
	"loosebox/storage"
)

// folder reads what a data folder holds, and makes another with the same.
func folderCopy(t *testing.T, dir string) string {
	t.Helper()
	to := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(to, "copy"), os.DirFS(dir)))
	return filepath.Join(to, "copy")
}

// noteIn adds a note to a visit.
func noteIn(t *testing.T, r *storage.Record, v exam.VisitID, text string) {
	t.Helper()
	_, err := r.Append(exam.Entry{Visit: v, At: day(), By: "Ann", Kind: exam.EntryNote, Note: text})
	require.NoError(t, err)
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
	r := with(dir, keys)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	require.NoError(t, r.Close())
	names, err := filepath.Glob(filepath.Join(dir, "*"))
	require.NoError(t, err)
	assert.Equal(t, []string{filepath.Join(dir, storage.FileName)}, names, "nothing but the record")
	older := folderCopy(t, dir)

	// The same copy on another machine: that machine writes under a key of its own.
	elsewhere := with(folderCopy(t, dir), filepath.Join(t.TempDir(), "keys"))
	noteIn(t, elsewhere, v.ID, "from elsewhere")
	report, err := elsewhere.Check(context.Background())
	require.NoError(t, err)
	require.True(t, report.OK, "%v", report.Broken)
	require.Len(t, report.Writers, 2)
	assert.NotEqual(t, report.Writers[0].Fingerprint, report.Writers[1].Fingerprint)
	require.NoError(t, elsewhere.Close())

	// It goes on here; then the older copy is put back, with all that was in its folder.
	r = with(dir, keys)
	noteIn(t, r, v.ID, "lost with the older copy")
	require.NoError(t, r.Close())
	require.NoError(t, os.RemoveAll(dir))
	require.NoError(t, os.CopyFS(dir, os.DirFS(older)))
	r = with(dir, keys)
	require.Len(t, r.Missing(), 1, "the older copy is noticed")
	noteIn(t, r, v.ID, "after it")
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

// What an older copy lacks is missing until it comes, and no longer.
func TestWhatWasMissingCame(t *testing.T) {
	dir, keys := filepath.Join(t.TempDir(), "record"), filepath.Join(t.TempDir(), "keys")
	with := func(dir string) *storage.Record {
		t.Helper()
		r, err := storage.Open(dir, storage.Options{KeyDir: keys})
		require.NoError(t, err)
		return r
	}
	r := with(dir)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	require.NoError(t, r.Close())
	older := folderCopy(t, dir)
	r = with(dir)
	noteIn(t, r, v.ID, "in the newer file alone")
	noteIn(t, r, v.ID, "and so is this")
	newer := segmentsOf(t, r)
	require.NoError(t, r.Close())

	r = with(older)
	require.Len(t, r.Missing(), 1)
	noteIn(t, r, v.ID, "after it was put back")
	says := func(whole bool) {
		t.Helper()
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		assert.Equal(t, whole, report.OK, "%v", report.Broken)
	}
	says(false)
	done, err := r.Adopt(context.Background(), feed(newer))
	require.NoError(t, err)
	require.Equal(t, 2, done.Entries)
	says(true)
	require.NoError(t, r.Close())
	r = with(older)
	assert.Empty(t, r.Missing())
	says(true)
	got, err := r.Visit(v.ID)
	require.NoError(t, err)
	assert.Len(t, got.Notes, 3)
	require.NoError(t, r.Close())
}

// A copy that took the key along wrote on as well: what the marks lack is here as a branch.
func TestWhatWasMissingCameAsABranch(t *testing.T) {
	dir, keys := filepath.Join(t.TempDir(), "record"), filepath.Join(t.TempDir(), "keys")
	with := func(dir, keys string) *storage.Record {
		t.Helper()
		r, err := storage.Open(dir, storage.Options{KeyDir: keys})
		require.NoError(t, err)
		return r
	}
	r := with(dir, keys)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	require.NoError(t, r.Close())
	twin := folderCopy(t, dir)
	twinKeys := folderCopy(t, keys)
	write := func(dir, keys string, notes int) []signedlog.Segment {
		t.Helper()
		r := with(dir, keys)
		for i := range notes {
			_, err := r.Append(exam.Entry{Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryNote, Note: fmt.Sprint(dir, i)})
			require.NoError(t, err)
		}
		out := segmentsOf(t, r)
		require.NoError(t, r.Close())
		return out
	}
	write(dir, keys, 1)
	more := write(twin, twinKeys, 2)

	r = with(dir, keys) // the twin's lines, then the twin's marks: the disk was put back
	_, err := r.Adopt(context.Background(), feed(more))
	require.NoError(t, err)
	require.NoError(t, r.Close())
	r = with(dir, twinKeys)
	assert.Empty(t, r.Missing())
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
	require.NoError(t, r.Close())
}
