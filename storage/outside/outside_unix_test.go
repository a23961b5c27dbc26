//go:build unix

package outside_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/outside"
)

func TestOnlyARegularFileOfABoundedSizeIsRead(t *testing.T) {
	dir := t.TempDir()
	pipe, big, good := filepath.Join(dir, "pipe"), filepath.Join(dir, "big"), filepath.Join(dir, "good")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	require.NoError(t, os.WriteFile(good, []byte("12345"), 0o600))
	f, err := os.Create(big)
	require.NoError(t, err)
	require.NoError(t, f.Truncate(1<<40)) // a terabyte of holes
	require.NoError(t, f.Close())
	for name, want := range map[string]string{
		pipe: "is a pipe", dir: "is a folder", "/dev/zero": "is no regular file",
		big: "has 1099511627776 bytes: a file of more than 4 MB",
	} {
		_, err := outside.ReadFile(name, 4<<20)
		require.ErrorContains(t, err, want)
	}
	data, err := outside.ReadFile(good, 5)
	require.NoError(t, err)
	assert.Equal(t, "12345", string(data))
	_, err = outside.ReadFile(good, 4)
	require.ErrorContains(t, err, "a file of more than 4 bytes")
	_, err = outside.ReadFile(filepath.Join(dir, "none"), 4)
	require.ErrorIs(t, err, os.ErrNotExist)
}
