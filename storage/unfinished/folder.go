package unfinished

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// Folder is a folder whose content is being made, or is thrown away at the end.
type Folder struct {
	Path string
	held *os.File
}

// MakeFolder makes a folder with a name of its own that begins with prefix, its
// owner's alone. Folders of the same prefix that no running program holds are
// removed first, if belongs says so of every file in them.
func MakeFolder(parent, prefix string, belongs func(name string) bool) (*Folder, error) {
	SweepFolders(parent, prefix, belongs)
	path, err := os.MkdirTemp(parent, prefix+"*") // 0700
	if err != nil {
		return nil, err
	}
	held, err := os.Open(path)
	if err != nil {
		return nil, errors.Join(err, os.Remove(path))
	}
	if err := lock(held); err != nil && !errors.Is(err, errNoLocks) {
		return nil, errors.Join(err, held.Close(), os.Remove(path))
	}
	return &Folder{path, held}, nil
}

// Remove removes the folder with all that is in it. It is no error where the
// folder was moved to its own place.
func (f *Folder) Remove() error {
	f.Release()
	if err := os.RemoveAll(f.Path); err != nil {
		return fmt.Errorf("%s cannot be removed: %w", f.Path, err)
	}
	return nil
}

// Release lets go of the folder, so that it can be moved on every system.
func (f *Folder) Release() { _ = f.held.Close() }

// SweepFolders removes the folders of a prefix that a killed program left, and says
// how many. A folder that holds anything that does not belong there stays.
func SweepFolders(parent, prefix string, belongs func(name string) bool) int {
	ours := regexp.MustCompile(`^` + regexp.QuoteMeta(prefix) + `\d+$`)
	return sweep(parent, ours, func(path string) bool {
		info, err := os.Lstat(path)
		if err != nil || !info.IsDir() || !onlyOurs(path, belongs) || !free(path) {
			return false
		}
		return os.RemoveAll(path) == nil
	})
}

// onlyOurs says whether all files of a folder belong there; names have slashes and
// are below the folder.
func onlyOurs(dir string, belongs func(name string) bool) bool {
	foreign := errors.New("another's")
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name := filepath.ToSlash(strings.TrimPrefix(path, dir+string(filepath.Separator)))
		if !d.Type().IsRegular() || !belongs(name) {
			return foreign
		}
		return nil
	})
	return err == nil
}
