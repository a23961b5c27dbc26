package share_test

import (
	"context"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"loosebox/storage/share"
)

// mounted is a disk in memory; false where this user may mount none.
func mounted(t *testing.T, size int) (string, bool) {
	t.Helper()
	dir := t.TempDir()
	if err := unix.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d,mode=0700", size)); err != nil {
		t.Logf("no disk in memory can be mounted here (%v)", err)
		return "", false
	}
	t.Cleanup(func() { require.NoError(t, unix.Unmount(dir, 0)) })
	return dir, true
}

// A stick that may only be read is read, and says why it takes nothing.
func TestAStickThatMayOnlyBeRead(t *testing.T) {
	stick, isDisk := mounted(t, 8<<20)
	if !isDisk {
		stick = t.TempDir()
	}
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	bea.examine(t, 2)
	ann.exchange(t, stick)
	if isDisk {
		require.NoError(t, unix.Mount("", stick, "", unix.MS_REMOUNT|unix.MS_RDONLY, ""))
	} else {
		require.NoError(t, os.Chmod(stick, 0o500)) // an ordinary user's rights bind
		defer func() { require.NoError(t, os.Chmod(stick, 0o700)) }()
	}
	done, err := share.New(stick).Exchange(context.Background(), bea)
	require.NoError(t, err)
	assert.Equal(t, 1, done.In.Visits, "what is there was taken")
	require.Error(t, done.Unwritten)
	assert.Equal(t, 5, done.Waiting)
	assert.Contains(t, done.Unwritten.Error(), "may only be read")
}

// A stick that gets full takes what it can; the rest waits, and goes when there is room.
func TestAStickThatGetsFull(t *testing.T) {
	stick, ok := mounted(t, 1<<20)
	if !ok {
		return // the message says why; the code that meets it is the same as for a stick that may only be read
	}
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ballast, err := os.Create(stick + "/film")
	require.NoError(t, err)
	for err == nil {
		_, err = ballast.Write(make([]byte, 4096))
	}
	require.ErrorIs(t, err, unix.ENOSPC)
	require.NoError(t, ballast.Truncate(1<<20-16<<10))
	for range 100 {
		ann.examine(t, 20)
	}
	done, err := share.New(stick).Exchange(context.Background(), ann)
	require.NoError(t, err)
	require.Error(t, done.Unwritten)
	assert.Contains(t, done.Unwritten.Error(), "is full")
	assert.Equal(t, 100*23, done.Waiting+done.Lines, "each line is there or waits")
	assert.Positive(t, done.Waiting)
	require.NoError(t, ballast.Close())
	require.NoError(t, os.Remove(ballast.Name()))
	ann.exchange(t, stick)
	bea.exchange(t, stick)
	same(t, ann, bea)
}
