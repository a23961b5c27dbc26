package share_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage"
	"loosebox/storage/share"
)

// The stick is pulled out while it is written: what waits is said and kept, and goes out when
// the stick is back with what it has.
func TestAStickIsPulledOutWhileItIsWritten(t *testing.T) {
	stick := filepath.Join(t.TempDir(), "stick")
	require.NoError(t, os.Mkdir(stick, 0o700))
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	for range 150 {
		ann.examine(t, 4)
	}
	n := 0
	done, err := share.New(stick).Exchange(context.Background(), counting{ann, func() {
		if n++; n == 2 {
			require.NoError(t, os.RemoveAll(stick))
		}
	}})
	require.NoError(t, err)
	require.ErrorContains(t, done.Unwritten, "the stick was pulled out, or the folder is gone; what waits is kept here. Plug it in and exchange again")
	assert.Positive(t, done.Waiting)
	assert.Equal(t, 150*7, done.Waiting+done.Lines)

	require.NoError(t, os.Mkdir(stick, 0o700))
	ann.exchange(t, stick)
	bea.exchange(t, stick)
	same(t, ann, bea)
}

// looking is a record that is asked how far it holds its logs; told, the stick goes.
type looking struct {
	*laptop
	tell func()
}

func (l looking) Logs() ([]storage.Held, error) {
	l.tell()
	return l.laptop.Logs()
}

// The stick is pulled out while it is read: what was taken in stays, and the rest comes the
// next time.
func TestAStickIsPulledOutWhileItIsRead(t *testing.T) {
	stick, pocket := filepath.Join(t.TempDir(), "stick"), filepath.Join(t.TempDir(), "pocket")
	require.NoError(t, os.Mkdir(stick, 0o700))
	ann, bea := newLaptop(t, "ann"), newLaptop(t, "bea")
	for range 150 {
		ann.examine(t, 4)
	}
	ann.exchange(t, stick)
	require.NoError(t, os.CopyFS(pocket, os.DirFS(stick)))
	n := 0
	_, err := share.New(stick).Exchange(context.Background(), looking{bea, func() {
		if n++; n == 1 {
			require.NoError(t, os.RemoveAll(stick))
		}
	}})
	require.ErrorIs(t, err, share.ErrNoFolder)
	require.ErrorContains(t, err, "what was taken in stays, and the next exchange goes on")
	require.NoError(t, os.Rename(pocket, stick))
	bea.exchange(t, stick)
	same(t, ann, bea)
}
