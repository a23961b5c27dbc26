package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/steps"
)

// TestAnOwnOrderIsKeptAndReadAgain: what the order screen saves is a file that the next start reads; it is replaced when it
// is changed, and a file that was not read as this routine is never written over.
func TestAnOwnOrderIsKeptAndReadAgain(t *testing.T) {
	dir := t.TempDir()
	start := func() *env {
		e := &env{dir: dir}
		require.NoError(t, e.tables())
		return e
	}
	e := start()
	full, _ := steps.Find(e.routines, steps.Default)
	groups := full.Groups()
	groups[2], groups[3] = groups[3], groups[2]
	own := steps.OwnOrder(full, groups, "Ann Bell")
	require.NoError(t, e.keepRoutine(own))
	require.NoError(t, e.keepRoutine(own), "saved twice in one run")

	e = start()
	require.Empty(t, e.problems)
	read, ok := steps.Find(e.routines, "full-exam-ann-bell")
	require.True(t, ok)
	assert.Equal(t, own, read)

	slices.Reverse(groups)
	require.NoError(t, e.keepRoutine(steps.OwnOrder(full, groups, "Ann Bell")))
	read, _ = steps.Find(start().routines, "full-exam-ann-bell")
	assert.Equal(t, "note", string(read.Asks[0].Step))

	name := filepath.Join(dir, "routines", "full-exam-bo.yaml")
	require.NoError(t, os.WriteFile(name, []byte("not yet finished"), 0o600))
	require.ErrorContains(t, e.keepRoutine(steps.OwnOrder(full, groups, "Bo")), "is there already")
	left, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "not yet finished", string(left))
	inside, err := os.ReadDir(filepath.Join(dir, "routines"))
	require.NoError(t, err)
	assert.Len(t, inside, 2, "nothing else is left behind")
}
