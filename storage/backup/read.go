package backup

import (
	"archive/tar"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"regexp"
	"strings"
	"sync"

	"filippo.io/age"

	"loosebox/storage"
)

// ErrNotWhole is wrapped where a file is no whole backup: another passphrase or
// key, a changed bit, a cut end. Nothing of it is used then.
var ErrNotWhole = errors.New("this is no whole backup, or the passphrase or key is another one")

// notWhole is ErrNotWhole with what the reader of the file met, which says nothing to
// a person.
type notWhole struct{ cause error }

func (n *notWhole) Error() string { return ErrNotWhole.Error() }

func (n *notWhole) Is(target error) bool { return target == ErrNotWhole }

func (n *notWhole) Unwrap() error { return n.cause }

// maxRecord is the largest record that is believed.
const maxRecord = 1 << 40

// maxFiles is how many files of a practice's own a backup holds at most. The same
// number is asked for when one is made.
const maxFiles = 2000

// sparse says whether a file claims to be larger than what is stored of it: such a small backup
// could fill a disk.
func sparse(h *tar.Header) bool {
	for key := range h.PAXRecords {
		if strings.HasPrefix(key, "GNU.sparse.") {
			return true
		}
	}
	return false
}

// names are the only names that a file in a backup may have.
var names = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(backup\.json|record\.db|machine\.key|[\w][\w .-]{0,79}\.csv|(routines|cases)/[\w][\w .-]{0,79}\.yaml)$`)
})

func allowed(name string) bool { return names().MatchString(name) }

// Unpack decrypts a backup into a new folder and says what it is. Until it returns
// without an error nothing in the folder may be relied on: parts come out before
// the end of the file was verified.
func Unpack(src io.Reader, folder string, with ...age.Identity) (About, error) {
	var about About
	plain, err := age.Decrypt(src, with...)
	if err != nil {
		return about, &notWhole{err}
	}
	root, err := os.OpenRoot(folder)
	if err != nil {
		return about, fmt.Errorf("unpack the backup: %w", err)
	}
	defer root.Close() //nolint:errcheck // nothing is written through it
	seen := map[string]bool{}
	archive := tar.NewReader(plain)
	for {
		h, err := archive.Next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return about, &notWhole{err}
		}
		if !allowed(h.Name) || h.Typeflag != tar.TypeReg || sparse(h) || seen[h.Name] || h.Name != storage.FileName && h.Size > maxOwn || h.Size > maxRecord {
			return about, fmt.Errorf("%w (it holds %q, which no backup has)", ErrNotWhole, h.Name)
		}
		seen[h.Name] = true
		if len(seen) > maxFiles {
			return about, fmt.Errorf("%w (it holds more than %d files)", ErrNotWhole, maxFiles)
		}
		if err := unpackOne(root, h, archive, &about); err != nil {
			return about, err
		}
	}
	// The last bytes: only here is the end of the file verified.
	if _, err := io.Copy(io.Discard, plain); err != nil {
		return about, &notWhole{err}
	}
	if !seen[nameAbout] || !seen[storage.FileName] || about.Schema != Schema {
		return about, fmt.Errorf("%w (it holds no record)", ErrNotWhole)
	}
	return about, nil
}

func unpackOne(root *os.Root, h *tar.Header, from io.Reader, about *About) error {
	if h.Name == nameAbout {
		data, err := io.ReadAll(from)
		if err == nil {
			err = json.Unmarshal(data, about)
		}
		if err != nil {
			return &notWhole{err}
		}
		return nil
	}
	if folder := path.Dir(h.Name); folder != "." {
		if err := root.Mkdir(folder, 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("unpack the backup: %w", err)
		}
	}
	f, err := root.OpenFile(h.Name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("unpack the backup: %w", err)
	}
	_, err = io.Copy(f, from)
	synced := errors.Join(f.Sync(), f.Close())
	var disk *fs.PathError
	switch {
	case errors.As(err, &disk):
		return fmt.Errorf("unpack the backup: %w", err)
	case err != nil:
		return &notWhole{err}
	case synced != nil:
		return fmt.Errorf("unpack the backup: %w", synced)
	}
	return nil
}
