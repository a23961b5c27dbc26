package unfinished

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
)

// ErrExists is wrapped where a file of that name is there already.
var ErrExists = errors.New("is there already and was not touched")

// File is a file that has not got its own name yet.
type File struct {
	*os.File
	name string
	done bool
}

// Create begins the file name, which must not exist. The tag is part of the
// temporary name: lower-case letters and digits that say whose work it is. What
// earlier programs of the same tag left unfinished in the folder is removed.
func Create(name, tag string) (*File, error) {
	if _, err := os.Lstat(name); err == nil {
		return nil, fmt.Errorf("%s %w; choose another name", name, ErrExists)
	}
	dir := filepath.Dir(name)
	Sweep(dir, tag)
	f, err := os.CreateTemp(dir, "loosebox-"+tag+"-*.part") // 0600
	if err != nil {
		return nil, fmt.Errorf("the file cannot be made: %w", err)
	}
	if err := lock(f); err != nil && !errors.Is(err, errNoLocks) {
		_ = f.Close()
		_ = os.Remove(f.Name())
		return nil, fmt.Errorf("the file cannot be made: %w", err)
	}
	return &File{File: f, name: name}, nil
}

// sync makes what was written so far durable.
func (f *File) sync() error {
	if err := f.Sync(); err != nil {
		return fmt.Errorf("the file could not be written whole: %w", err)
	}
	return nil
}

// Finish syncs the file and gives it its own name, after check looked at the
// temporary one; check may be nil. On an error nothing of the file is left.
func (f *File) Finish(check func(temp string) error) error {
	defer f.Discard()
	if err := f.sync(); err != nil {
		return err
	}
	if check != nil {
		if err := check(f.Name()); err != nil {
			return err
		}
	}
	if runtime.GOOS == "windows" {
		_ = f.Close() // an open file cannot be renamed there
	}
	if err := settle(f.Name(), f.name); err != nil {
		return err
	}
	return SyncFolder(filepath.Dir(f.name))
}

// Discard removes what was written, unless it was finished.
func (f *File) Discard() {
	if f.done {
		return
	}
	f.done = true
	_ = f.Close()
	_ = os.Remove(f.Name()) // not there any more where it was finished
}

// settle gives a file its own name and never replaces another.
func settle(temp, name string) error {
	err := os.Link(temp, name)
	if err == nil {
		return nil // the temporary name is removed with the rest
	}
	if _, there := os.Lstat(name); errors.Is(err, fs.ErrExist) || there == nil {
		return fmt.Errorf("%s %w; choose another name", name, ErrExists)
	}
	if err := os.Rename(temp, name); err != nil { // a file system without links
		return fmt.Errorf("the file could not get its name: %w", err)
	}
	return nil
}

// SyncFolder makes the names in a folder durable, as far as the file system can.
func SyncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // folders cannot be synced there
	}
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("sync %s: %w", dir, err)
	}
	_ = d.Sync() // some file systems of sticks sync no folders: the file itself is synced
	return d.Close()
}

// Sweep removes the unfinished files of a tag that no running program holds, and
// says how many. Only regular files with a name that Create makes are looked at.
func Sweep(dir, tag string) int {
	ours := regexp.MustCompile(`^loosebox-` + regexp.QuoteMeta(tag) + `-\d+\.part$`)
	return sweep(dir, ours, func(path string) bool {
		info, err := os.Lstat(path)
		return err == nil && info.Mode().IsRegular() && free(path) && os.Remove(path) == nil
	})
}

func sweep(dir string, ours *regexp.Regexp, remove func(path string) bool) int {
	list, err := os.ReadDir(dir)
	if err != nil {
		return 0
	}
	n := 0
	for _, f := range list {
		if ours.MatchString(f.Name()) && remove(filepath.Join(dir, f.Name())) {
			n++
		}
	}
	return n
}

// free says that no running program holds a file or folder.
func free(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	err = lock(f)
	_ = f.Close() // which lets go of the lock as well
	return err == nil || errors.Is(err, errNoLocks) && runtime.GOOS == "windows"
}
