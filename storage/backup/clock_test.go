package backup_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/backup"
)

func listed(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	out := []string{}
	for _, f := range list {
		out = append(out, f.Name())
	}
	return out
}

// A dead clock battery: the machine stood in 2031 for some weeks, then begins at
// the same moment of 2001 after each start. Each backup that is reported as written
// is there, none is removed, and the person is told.
func TestAWrongClockRemovesNoBackup(t *testing.T) {
	r, dir := yard(t)
	stick := t.TempDir()
	made := map[string]bool{}
	for n := range 20 {
		name := backup.FileName(mustMachine(t, r), time.Date(2031, 5, 1+n, 9, 0, 0, 0, time.UTC))
		require.NoError(t, os.WriteFile(filepath.Join(stick, name), []byte("earlier"), 0o600))
		made[name] = true
	}
	reset := time.Date(2001, 1, 1, 0, 0, 7, 0, time.UTC)
	for range 3 {
		saved, err := backup.From{Record: r, Folder: dir, At: reset}.Into(context.Background(), stick, recipient(t))
		require.NoError(t, err)
		require.FileExists(t, saved.File)
		assert.Contains(t, saved.Notice, "later than the clock")
		assert.Contains(t, saved.Notice, "20310520")
		made[filepath.Base(saved.File)] = true
		_, err = backup.Restore(context.Background(), saved.File, filepath.Join(t.TempDir(), "p"), whole, identity(t, phrase))
		require.NoError(t, err)
	}
	assert.Len(t, made, 23, "the same moment again is another name")
	assert.Len(t, listed(t, stick), 23)

	// The clock is right again, and 2031 is still ahead.
	saved, err := backup.From{Record: r, Folder: dir, At: day()}.Into(context.Background(), stick, recipient(t))
	require.NoError(t, err)
	assert.FileExists(t, saved.File)
	assert.Contains(t, saved.Notice, "No old backup was removed")
	assert.Len(t, listed(t, stick), 24)

	// Those moved away, pruning goes on, and never takes what was just made.
	for name := range made {
		if name > backup.FileName(mustMachine(t, r), day()) {
			require.NoError(t, os.Remove(filepath.Join(stick, name)))
		}
	}
	saved, err = backup.From{Record: r, Folder: dir, At: day().Add(time.Hour)}.Into(context.Background(), stick, recipient(t))
	require.NoError(t, err)
	assert.Empty(t, saved.Notice)
	assert.FileExists(t, saved.File)
	assert.Len(t, listed(t, stick), 2, "of each of the two days the newest")
}

// Whatever the moments at which backups are made, the newest made stays.
func TestTheNewestMadeIsNeverPruned(t *testing.T) {
	r, dir := yard(t)
	stick := t.TempDir()
	at := day()
	for _, step := range []time.Duration{0, time.Hour, -3 * time.Hour, 24 * time.Hour, -48 * time.Hour, 30 * 24 * time.Hour, -1, 365 * 24 * time.Hour, -366 * 24 * time.Hour} {
		at = at.Add(step)
		saved, err := backup.From{Record: r, Folder: dir, At: at}.Into(context.Background(), stick, recipient(t))
		require.NoError(t, err)
		require.FileExists(t, saved.File, step)
	}
}
