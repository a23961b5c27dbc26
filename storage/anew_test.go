package storage_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/exam/progress"
	"loosebox/storage"
)

func leftOver(t *testing.T, dir string) []string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(dir, storage.FileName+".new-*"))
	require.NoError(t, err)
	return list
}

// A rebuild makes a new file, which takes the record's place when it is whole; the record is
// written on afterwards.
func TestARebuiltRecordGoesOn(t *testing.T) {
	r, dir := newRecord(t)
	v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	appendAll(t, r, answers(v.ID, 3, day()))
	before, err := os.Stat(filepath.Join(dir, storage.FileName))
	require.NoError(t, err)
	n, _, err := r.Rebuild(context.Background())
	require.NoError(t, err)
	assert.Equal(t, 1, n)
	after, err := os.Stat(filepath.Join(dir, storage.FileName))
	require.NoError(t, err)
	assert.False(t, os.SameFile(before, after))
	assert.Equal(t, before.Mode(), after.Mode())
	assert.Empty(t, leftOver(t, dir))

	appendAll(t, r, answers(v.ID, 5, day())[3:])
	require.NoError(t, r.Close())
	r = openRecord(t, dir)
	assert.Empty(t, r.Missing(), "what this laptop remembers of the record still fits")
	list, err := r.Entries(v.ID)
	require.NoError(t, err)
	assert.Len(t, list, 6)
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
}

// Where it is broken off, or finds damage, the record stays as it was, byte for byte.
func TestARebuildThatFailsChangesNothing(t *testing.T) {
	for name, spoil := range map[string]func(*testing.T, *storage.Record, context.CancelFunc){
		"broken off": func(_ *testing.T, _ *storage.Record, stop context.CancelFunc) { stop() },
		"a line gone": func(t *testing.T, r *storage.Record, _ context.CancelFunc) {
			require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error {
				b := tx.Bucket([]byte("lines"))
				key, _ := b.Cursor().First()
				return b.Delete(key)
			}))
		},
	} {
		dir := t.TempDir()
		r, err := storage.Open(dir, storage.Options{})
		require.NoError(t, err)
		v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
		appendAll(t, r, answers(v.ID, 3, day()))
		ctx, stop := context.WithCancel(context.Background())
		spoil(t, r, stop)
		before, err := os.ReadFile(filepath.Join(dir, storage.FileName))
		require.NoError(t, err)
		_, _, err = r.Rebuild(ctx)
		require.Error(t, err, name)
		if name == "a line gone" {
			require.ErrorIs(t, err, exam.ErrDamaged)
		} else {
			require.ErrorContains(t, err, "the record is as it was")
		}
		after, err := os.ReadFile(filepath.Join(dir, storage.FileName))
		require.NoError(t, err)
		assert.Equal(t, before, after, name)
		assert.Empty(t, leftOver(t, dir), name)
		_, err = r.Horses()
		require.NoError(t, err, name)
		require.NoError(t, r.Close())
		stop()
	}
}

// Broken off between its steps it leaves nothing half done either.
func TestARebuildBrokenOffOnTheWay(t *testing.T) {
	r, dir := newRecord(t)
	for range 3 {
		v := begin(t, r, saveHorse(t, r, "Bracken").ID, day())
		appendAll(t, r, append(answers(v.ID, 3, day()), closing(v.ID, day())))
	}
	before, err := os.ReadFile(filepath.Join(dir, storage.FileName))
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	_, _, err = r.Rebuild(progress.With(ctx, func(what string, _, _ int) {
		if what == "visits" {
			stop()
		}
	}))
	require.ErrorIs(t, err, context.Canceled)
	after, err := os.ReadFile(filepath.Join(dir, storage.FileName))
	require.NoError(t, err)
	assert.Equal(t, before, after)
	assert.Empty(t, leftOver(t, dir))
}
