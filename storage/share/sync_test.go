package share_test

import (
	"os"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/share"
)

// disk is a file system that cannot sync its folders, or not its files.
type disk struct {
	noFolders, noFiles bool
	folders, files     int // how often it was asked
}

func (d *disk) sync(f *os.File) error {
	info, err := f.Stat()
	switch {
	case err != nil:
		return err
	case info.IsDir():
		if d.folders++; d.noFolders {
			return syscall.EINVAL
		}
	default:
		if d.files++; d.noFiles {
			return syscall.EIO
		}
	}
	return f.Sync()
}

// Case: a stick with FAT or exFAT, where a folder cannot be synced. That is no error, as each
// file is synced itself.
func TestAStickThatSyncsNoFolders(t *testing.T) {
	stick, d := t.TempDir(), &disk{noFolders: true}
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	for range 2 {
		ann.examine(t, 2)
		done, err := share.New(stick).SyncBy(d.sync).Exchange(t.Context(), ann)
		require.NoError(t, err)
		require.NoError(t, done.Unwritten)
		assert.Zero(t, done.Waiting)
	}
	assert.Positive(t, d.folders, "it was tried")
	assert.GreaterOrEqual(t, d.files, 3, "the mark and two segments")
	bea.exchange(t, stick)
	same(t, ann, bea)
}

// A file that cannot be synced is an error: nothing of it stays, its lines wait, and they go
// once the stick is well.
func TestAStickThatSyncsNoFiles(t *testing.T) {
	stick, d := t.TempDir(), &disk{}
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	ann.examine(t, 2)
	ann.exchange(t, stick)
	before := files(t, stick)
	ann.examine(t, 2)
	d.noFiles = true
	done, err := share.New(stick).SyncBy(d.sync).Exchange(t.Context(), ann)
	require.NoError(t, err)
	require.ErrorIs(t, done.Unwritten, syscall.EIO)
	assert.Equal(t, 5, done.Waiting)
	assert.Zero(t, done.Files)
	assert.Equal(t, before, files(t, stick))
	ann.exchange(t, stick)
	bea.exchange(t, stick)
	same(t, ann, bea)
}
