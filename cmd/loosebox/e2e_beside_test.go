//go:build unix

package main

import (
	"path/filepath"
	"testing"

	"filippo.io/age"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// While the screens are open, what only reads works in another window; what writes is
// told who holds the record, and changes nothing.
func TestCommandsWhileTheScreensAreOpen(t *testing.T) {
	data := yard(t)
	h := sit(t, data)
	h.see("Bramble")
	key, err := age.GenerateX25519Identity()
	require.NoError(t, err)
	aside := t.TempDir()
	for _, args := range [][]string{
		{"horses"},
		{"visits", "Bramble"},
		{"show", "Bramble@last"},
		{"compare", "Bramble"},
		{"due", "--all"},
		{"round"},
		{"rehearsals"},
		{"check"},
		{"export", "-o", filepath.Join(aside, "all.json")},
		{"backup", filepath.Join(aside, "all.age"), "--recipient", key.Recipient().String()},
		{"backup", "--drill"},
		{"share", "status"},
	} {
		out, errOut, code := command(t, data, args...)
		assert.Zero(t, code, "%v: %s", args, errOut)
		assert.NotEmpty(t, out, "%v", args)
	}
	_, errOut, code := command(t, data, "correct", "Bramble@last", "heart.rate", "44/min", "--reason", "read wrong")
	assert.Equal(t, 5, code)
	assert.Contains(t, errOut, "in use by another run")
	h.leave()
	sound(t, data)
	left, err := filepath.Glob(filepath.Join(data, "*.read-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}
