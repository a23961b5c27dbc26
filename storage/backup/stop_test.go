package backup_test

import (
	"archive/tar"
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"filippo.io/age"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/storage/backup"
)

var errStop = errors.New("stop")

// A restore that is interrupted at any point leaves nothing that was decrypted.
func TestAnInterruptedRestoreLeavesNothing(t *testing.T) {
	file, _, _ := saved(t)
	for _, after := range []time.Duration{0, time.Millisecond, 3 * time.Millisecond, 10 * time.Millisecond} {
		dir := t.TempDir()
		ctx, stop := context.WithCancelCause(context.Background())
		time.AfterFunc(after, func() { stop(errStop) })
		_, err := backup.Restore(ctx, file, filepath.Join(dir, "place"), func(folder string) error {
			require.FileExists(t, filepath.Join(folder, "record.db"))
			<-ctx.Done()
			return errors.New("killed")
		}, identity(t, phrase))
		require.ErrorIs(t, err, errStop)
		require.NotErrorIs(t, err, backup.ErrNotWhole, "the backup is not to blame")
		assert.Empty(t, listed(t, dir))
	}
}

// What kill -9 leaves beside the place is removed by the next restore.
func TestTheNextRestoreRemovesWhatAKilledOneLeft(t *testing.T) {
	file, _, _ := saved(t)
	dir := t.TempDir()
	for path, names := range map[string][]string{
		"place.restoring-11": {"record.db", "machine.key", "machine.count", "machine.count.new-9", "routines/mine.yaml"},
		"place.restoring-12": {"record.db", "holiday.jpg"},
	} {
		for _, name := range names {
			full := filepath.Join(dir, path, name)
			require.NoError(t, os.MkdirAll(filepath.Dir(full), 0o700))
			require.NoError(t, os.WriteFile(full, []byte("x"), 0o600))
		}
	}
	_, err := backup.Restore(context.Background(), file, filepath.Join(dir, "place"), whole, identity(t, phrase))
	require.NoError(t, err)
	assert.Equal(t, []string{"place", "place.restoring-12"}, listed(t, dir), "never a foreign file")
}

// Before the next restore a run of the program removes it; what a running restore holds, up to its last file, stays.
func TestARunRemovesWhatAKilledRestoreLeft(t *testing.T) {
	file, _, _ := saved(t)
	dir := t.TempDir()
	place := filepath.Join(dir, "place")
	left := func(path string, names ...string) {
		for _, name := range names {
			full := filepath.Join(dir, path, name)
			require.NoError(t, os.MkdirAll(filepath.Dir(full), 0o700))
			require.NoError(t, os.WriteFile(full, []byte("x"), 0o600))
		}
	}
	left("place.restoring-11", "record.db", "machine.key")
	left("place.restoring-12", "record.db", "holiday.jpg")
	left("other.restoring-13", "record.db")
	want := []string{"other.restoring-13", "place.restoring-12"}
	if runtime.GOOS == "windows" { // no locks tell there
		assert.Zero(t, backup.SweepKilled(place))
		return
	}
	assert.Equal(t, 1, backup.SweepKilled(place+string(filepath.Separator)))
	assert.Equal(t, want, listed(t, dir), "no foreign file, and no other place's")

	_, err := backup.Restore(context.Background(), file, place, func(folder string) error {
		assert.Zero(t, backup.SweepKilled(place), "it is being checked")
		assert.FileExists(t, filepath.Join(folder, "record.db"))
		return nil
	}, identity(t, phrase))
	require.NoError(t, err)
	assert.ElementsMatch(t, append(want, "place"), listed(t, dir))
}

func TestAnInterruptedBackupLeavesNothing(t *testing.T) {
	r, dir := yard(t)
	before := listed(t, dir)
	stick := t.TempDir()
	ctx, stop := context.WithCancelCause(context.Background())
	stop(errStop)
	_, err := backup.From{Record: r, Folder: dir, At: day()}.Into(ctx, stick, recipient(t))
	require.ErrorIs(t, err, errStop)
	assert.Empty(t, listed(t, stick))
	assert.Equal(t, before, listed(t, dir))
}

// A backup of a million small files, or of one that is larger than its bytes, ends
// with a number in its sentence.
func TestABackupOfAMillionFilesEnds(t *testing.T) {
	id, err := age.GenerateX25519Identity()
	require.NoError(t, err)
	pack := func(fill func(*tar.Writer)) *bytes.Buffer {
		var b bytes.Buffer
		enc, err := age.Encrypt(&b, id.Recipient())
		require.NoError(t, err)
		archive := tar.NewWriter(enc)
		fill(archive)
		require.NoError(t, errors.Join(archive.Close(), enc.Close()))
		return &b
	}
	many := pack(func(archive *tar.Writer) {
		for n := range 20_000 {
			require.NoError(t, archive.WriteHeader(&tar.Header{Name: fmt.Sprintf("%d.csv", n)}))
		}
	})
	dir := t.TempDir()
	_, err = backup.Unpack(many, dir, id)
	require.ErrorIs(t, err, backup.ErrNotWhole)
	require.ErrorContains(t, err, "more than 2000 files")
	assert.LessOrEqual(t, len(listed(t, dir)), 2000)
}
