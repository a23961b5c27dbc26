//go:build unix

package main

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// With a folder in the settings the screens share beside everything else: what another
// laptop wrote is in the list at the start, a closed visit goes out by itself, and a stick
// that is not there is no matter.
func TestTheScreensShareByThemselves(t *testing.T) {
	t.Parallel()
	ann, bea, stick := watched(t, 20), t.TempDir(), filepath.Join(t.TempDir(), "stick")
	require.NoError(t, os.Mkdir(stick, 0o700))
	inRecord(t, ann, func(r *storage.Record) {
		set, err := r.Settings()
		require.NoError(t, err)
		set.ShareFolder = stick
		require.NoError(t, r.SaveSettings(set))
	})
	h := sit(t, ann)
	h.see("horses")
	h.unsee("shared")
	h.leave()
	list, err := os.ReadDir(stick)
	require.NoError(t, err)
	assert.Empty(t, list, "a folder that nobody shared through is left alone")

	inRecord(t, bea, func(r *storage.Record) {
		_, err := r.SaveHorse(exam.Horse{Name: "Zephyr Bea", Kind: exam.AnimalHorse, Revision: 1}, "Bea Cole", time.Now())
		require.NoError(t, err)
	})
	_, errOut, code := command(t, bea, "share", "now", "--folder", stick)
	require.Zero(t, code, errOut)

	h = sit(t, ann)
	h.see("all sent")
	h.press("/")
	h.write("zephyr")
	h.see("Zephyr Bea")
	h.press("esc")
	h.leave()
	out, _, _ := command(t, bea, "share", "now", "--folder", stick)
	assert.Contains(t, out, "Came in: ")

	require.NoError(t, os.RemoveAll(stick))
	h = sit(t, ann)
	h.see("all sent")
	h.leave()
	sound(t, ann)
}
