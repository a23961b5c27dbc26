package storage_test

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"loosebox/storage"
)

// A copy takes one line, is closed and opened again: whichever of the two beginnings of
// its file the first commit wrote over.
func TestACopyGoesOn(t *testing.T) {
	for lines := range 4 {
		r, _ := newRecord(t)
		h := saveHorse(t, r, "Bracken")
		v := begin(t, r, h.ID, day())
		appendAll(t, r, answers(v.ID, lines, day()))
		to := t.TempDir()
		f, err := os.Create(filepath.Join(to, storage.FileName))
		require.NoError(t, err)
		require.NoError(t, r.Copy(func(int64) (io.Writer, error) { return f, nil }))
		require.NoError(t, f.Close())
		for i := range 3 {
			one, err := storage.Open(to, storage.Options{})
			require.NoError(t, err, "%d lines, opened %d times", lines, i)
			saveHorse(t, one, "Moth")
			require.NoError(t, one.Close())
		}
	}
}
