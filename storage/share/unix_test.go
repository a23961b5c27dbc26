//go:build unix

package share_test

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Links, pipes and devices in the folder are not followed, not waited for, not changed.
func TestLinksAndPipesAreLeftAlone(t *testing.T) {
	stick, elsewhere := t.TempDir(), t.TempDir()
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	bea.examine(t, 2)
	bea.exchange(t, elsewhere)
	secret := files(t, elsewhere)[0]
	require.NoError(t, os.Symlink(secret, filepath.Join(stick, "a.seg")))
	require.NoError(t, os.Symlink(filepath.Dir(secret), filepath.Join(stick, "folder")))
	require.NoError(t, os.Symlink("/dev/zero", filepath.Join(stick, "zero.seg")))
	require.NoError(t, syscall.Mkfifo(filepath.Join(stick, "pipe.seg"), 0o600))
	ann.examine(t, 2)
	logs, err := ann.Logs()
	require.NoError(t, err)
	// The folder of ann's log leads elsewhere.
	away := t.TempDir()
	require.NoError(t, os.Symlink(away, filepath.Join(stick, logs[0].Log.String())))
	done := ann.exchange(t, stick)
	assert.Zero(t, done.In.Visits)
	list, err := os.ReadDir(away)
	require.NoError(t, err)
	assert.Empty(t, list, "nothing is written through a link")
	cal := newLaptop(t, "cal")
	cal.exchange(t, stick)
	same(t, ann, cal)
}
