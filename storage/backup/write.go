package backup

import (
	"archive/tar"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"filippo.io/age"

	"loosebox/storage"
	"loosebox/storage/outside"
)

// Schema names the form of About.
const Schema = "loosebox/backup/1"

// About says what a backup is.
type About struct {
	Schema  string    `json:"schema"`
	At      time.Time `json:"at"`
	Machine string    `json:"machine"` // that made it
	Lines   uint64    `json:"lines"`   // of that machine's chain
	Size    int64     `json:"size"`    // of the record, in bytes
}

// nameAbout is the first file of every backup.
const nameAbout = "backup.json"

// From is what a backup is made of.
type From struct {
	Record *storage.Record
	Folder string // the record's, with the machine's key and the practice's own files
	At     time.Time
}

// Write writes a backup to w, encrypted to the recipients: to a passphrase alone,
// or to one or more public keys.
func (f From) Write(w io.Writer, to ...age.Recipient) (About, error) {
	about := About{Schema: Schema, At: f.At}
	var err error
	if about.Machine, about.Lines, err = f.Record.Reached(); err != nil {
		return about, err
	}
	enc, err := age.Encrypt(w, to...)
	if err != nil {
		return about, fmt.Errorf("begin the encrypted file: %w", err)
	}
	archive := tar.NewWriter(enc)
	err = f.Record.Copy(func(size int64) (io.Writer, error) {
		about.Size = size
		if err := f.about(archive, about); err != nil {
			return nil, err
		}
		return archive, f.header(archive, storage.FileName, size)
	})
	if err == nil {
		err = f.files(archive)
	}
	if err != nil {
		return about, err // what was written has no end, and is taken by nobody for a backup
	}
	if err := errors.Join(archive.Close(), enc.Close()); err != nil {
		return about, fmt.Errorf("end the encrypted file: %w", err)
	}
	return about, nil
}

func (f From) header(archive *tar.Writer, name string, size int64) error {
	err := archive.WriteHeader(&tar.Header{
		Typeflag: tar.TypeReg, Name: name, Size: size, Mode: 0o600, ModTime: f.At.Truncate(time.Second), Format: tar.FormatPAX,
	})
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

func (f From) about(archive *tar.Writer, about About) error {
	data, err := json.MarshalIndent(about, "", "  ")
	if err != nil {
		return fmt.Errorf("write %s: %w", nameAbout, err)
	}
	return f.file(archive, nameAbout, append(data, '\n'))
}

func (f From) file(archive *tar.Writer, name string, data []byte) error {
	if err := f.header(archive, name, int64(len(data))); err != nil {
		return err
	}
	if _, err := archive.Write(data); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}

// files adds the practice's own files. The machine's key is in no backup: what is restored
// goes on in a log of its own.
func (f From) files(archive *tar.Writer) error {
	var names []string
	for _, pattern := range []string{"*.csv", "routines/*.yaml", "cases/*.yaml"} {
		found, err := filepath.Glob(filepath.Join(f.Folder, filepath.FromSlash(pattern)))
		if err != nil {
			return fmt.Errorf("look for %s: %w", pattern, err)
		}
		for _, name := range found {
			own, err := filepath.Rel(f.Folder, name)
			if err != nil {
				return fmt.Errorf("look for %s: %w", pattern, err)
			}
			names = append(names, filepath.ToSlash(own))
		}
	}
	if len(names) > maxFiles-2 { // the record and what says what it is
		return fmt.Errorf("%d files of the practice's own are more than the %d that a backup takes: move some away", len(names), maxFiles-2)
	}
	for _, name := range names {
		data, err := readOwn(filepath.Join(f.Folder, filepath.FromSlash(name)))
		if errors.Is(err, fs.ErrNotExist) || errors.Is(err, errNotOwn) {
			continue
		}
		if err != nil {
			return err
		}
		if !allowed(name) {
			continue // a name that no table, routine or case of ours has
		}
		if err := f.file(archive, name, data); err != nil {
			return err
		}
	}
	return nil
}

// maxOwn is the largest file of a practice's own that is taken.
const maxOwn = 10 << 20

var errNotOwn = errors.New("it is no file of a practice's own")

func readOwn(name string) ([]byte, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() > maxOwn {
		return nil, errNotOwn
	}
	data, err := outside.ReadFile(name, maxOwn)
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	return data, nil
}
