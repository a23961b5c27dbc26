package backup

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"

	"filippo.io/age"
)

// partEnd ends the name of a file that is being written.
const partEnd = ".part"

// Save writes a backup to a file that is not there yet: under a temporary name,
// synced, read again and compared, then renamed. Where via names a folder, the
// encrypted file is made there first and copied over, so that a slow stick keeps
// nobody waiting who writes into the record.
func (f From) Save(name, via string, to ...age.Recipient) (About, error) {
	if _, err := os.Lstat(name); err == nil {
		return About{}, fmt.Errorf("%s is there already and was not touched; choose another name", name)
	}
	if via == "" {
		return f.place(name, func(w io.Writer) (About, error) { return f.Write(w, to...) })
	}
	local, err := os.CreateTemp(via, "backup-*"+partEnd)
	if err != nil {
		return About{}, fmt.Errorf("begin the backup: %w", err)
	}
	defer func() {
		_ = local.Close()
		_ = os.Remove(local.Name())
	}()
	about, err := f.Write(local, to...)
	if err != nil {
		return about, err
	}
	return f.place(name, func(w io.Writer) (About, error) {
		if _, err := local.Seek(0, io.SeekStart); err != nil {
			return about, err
		}
		_, err := io.Copy(w, local)
		return about, err
	})
}

// place lets write fill a file beside its name, and gives it the name when every
// byte is there.
func (f From) place(name string, write func(io.Writer) (About, error)) (About, error) {
	part := name + partEnd
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) { // of a stick that vanished half way
		return About{}, fmt.Errorf("begin the backup: %w", err)
	}
	file, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return About{}, fmt.Errorf("begin the backup: %w", err)
	}
	digest := sha256.New()
	about, err := write(io.MultiWriter(file, digest))
	err = errors.Join(err, file.Sync(), file.Close())
	if err == nil {
		err = same(part, digest.Sum(nil))
	}
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		_ = os.Remove(part)
		return about, fmt.Errorf("the backup could not be written whole, and none was left: %w", err)
	}
	return about, syncFolder(filepath.Dir(name))
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

func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // folders cannot be synced there
	}
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("sync %s: %w", dir, err)
	}
	// Some file systems of sticks sync no folders: the file itself is synced.
	_ = d.Sync()
	return d.Close()
}
