//go:build linux || darwin

package storage_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage"
)

// nobody is a user without rights, for tests that run as root.
const nobody = 65534

// A folder that may not be written to: the program says so and changes nothing.
func TestAFolderThatCannotBeWritten(t *testing.T) {
	dir, err := os.MkdirTemp("", "readonly")
	require.NoError(t, err)
	t.Cleanup(func() {
		_ = os.Chmod(dir, 0o700)
		_ = os.RemoveAll(dir)
	})
	said := new(lastLine)
	cmd := child(t, "open", dir)
	cmd.Stderr = said
	if os.Getuid() == 0 {
		self, err := os.ReadFile(cmd.Path)
		require.NoError(t, err)
		cmd.Path = filepath.Join(dir, "child")
		require.NoError(t, os.WriteFile(cmd.Path, self, 0o755))
		require.NoError(t, os.Chown(dir, nobody, nobody))
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		cmd.Dir = "/"
	}
	require.NoError(t, os.Chmod(dir, 0o500))
	require.Error(t, cmd.Run())
	assert.Contains(t, said.text, "nothing was changed")
	assert.Contains(t, said.text, "--data")
	_, err = os.Stat(filepath.Join(dir, storage.FileName))
	require.ErrorIs(t, err, os.ErrNotExist)
}
