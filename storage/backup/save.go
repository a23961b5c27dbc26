package backup

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"filippo.io/age"

	"loosebox/storage"
	"loosebox/storage/unfinished"
)

// tagLocal marks the encrypted file that is made in the record's folder first.
const tagLocal = "backup"

// tagOf marks the unfinished backups of one machine.
func tagOf(machine string) string {
	return fmt.Sprintf("backup%.8s", strings.ReplaceAll(machine, "-", ""))
}

// Save writes a backup to a file that is not there yet: under a temporary name,
// synced, read again and compared, then renamed. Where via names a folder, the
// encrypted file is made there first and copied over, so that a slow stick keeps
// nobody waiting who writes into the record. When the context ends, nothing is left.
func (f From) Save(ctx context.Context, name, via string, to ...age.Recipient) (About, error) {
	machine, _, err := f.Record.Reached()
	if err != nil {
		return About{}, err
	}
	file, err := unfinished.Create(name, tagOf(machine))
	if err != nil {
		return About{}, err
	}
	defer file.Discard()
	digest := sha256.New()
	out := &stoppableWriter{stretch{ctx: ctx, all: f.size()}, io.MultiWriter(file, digest)}
	var about About
	if via == "" {
		about, err = f.Write(out, to...)
	} else {
		about, err = f.writeBy(ctx, via, out, to...)
	}
	if err == nil {
		err = file.Finish(func(temp string) error { return same(temp, digest.Sum(nil)) })
	}
	if err != nil {
		return about, fmt.Errorf("the backup could not be written whole, and none was left: %w", err)
	}
	return about, nil
}

// writeBy makes the encrypted file in a folder that is fast and copies it over.
func (f From) writeBy(ctx context.Context, via string, out io.Writer, to ...age.Recipient) (About, error) {
	local, err := unfinished.Create(filepath.Join(via, "backup.unfinished"), tagLocal)
	if err != nil {
		return About{}, err
	}
	defer local.Discard()
	about, err := f.Write(&stoppableWriter{stretch{ctx: ctx, all: f.size()}, local}, to...)
	if err != nil {
		return about, err
	}
	if _, err := local.Seek(0, io.SeekStart); err != nil {
		return about, err
	}
	_, err = io.Copy(out, local)
	return about, err
}

// size is the bytes of the record; 0 where they cannot be told.
func (f From) size() int {
	info, err := os.Stat(filepath.Join(f.Folder, storage.FileName))
	if err != nil {
		return 0
	}
	return int(info.Size())
}

// same reads a file again: it holds what was written.
func same(name string, digest []byte) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close() //nolint:errcheck // read only
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return err
	}
	if !bytes.Equal(h.Sum(nil), digest) {
		return errors.New("what was read back is not what was written")
	}
	return nil
}
