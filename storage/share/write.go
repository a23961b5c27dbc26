package share

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"strings"

	"loosebox/exam/signedlog"
)

// tempPrefix begins the name of a file that is being written, tempSuffix ends it.
const (
	tempPrefix = ".new-"
	tempSuffix = ".tmp"
)

// writer puts segments into a folder.
type writer struct {
	root    *os.Root
	fsync   func(*os.File) error
	machine string          // whose temporary files these are
	swept   map[string]bool // folders in which earlier ones were removed
	dirty   map[string]bool // folders that were not synced since
}

// mark writes the file that says what the folder is, where it is not there.
func (w *writer) mark() error {
	if _, err := w.root.Lstat(Marker); err == nil {
		return nil
	}
	_, err := w.put(".", func(int) string { return Marker }, []byte(markerText))
	return err
}

// segment writes one segment under a name that no file has, and returns that name.
func (w *writer) segment(s signedlog.Segment, b []byte, end signedlog.Digest) (string, error) {
	return w.put(w.folder(s.Log.String()), func(try int) string {
		return numbered(fmt.Sprintf("%d-%d-%x", s.First, s.Last(), end[:8]), try) + ".seg"
	}, b)
}

// folder is a folder below the root, made where it is missing; the root itself where
// something else has its name, or it cannot be made.
func (w *writer) folder(name string) string {
	if err := w.root.Mkdir(name, 0o777); err == nil {
		w.dirty["."] = true
		return name
	}
	if info, err := w.root.Lstat(name); err == nil && info.IsDir() {
		return name
	}
	return "."
}

// maxTries is how many names are tried where broken files have the first ones.
const maxTries = 1000

// put writes a file: temporary name, sync, own name. No file that is there is touched.
func (w *writer) put(dir string, name func(try int) string, data []byte) (string, error) {
	w.sweep(dir)
	temp, err := w.temp(dir, data)
	if err != nil {
		return "", err
	}
	for try := range maxTries {
		to := path.Join(dir, name(try))
		if _, err := w.root.Lstat(to); !errors.Is(err, fs.ErrNotExist) {
			continue
		}
		err := w.root.Link(temp, to) // which never replaces a file
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err == nil {
			_ = w.root.Remove(temp)
		} else if err = w.root.Rename(temp, to); err != nil { // a file system without links
			_ = w.root.Remove(temp)
			return "", fmt.Errorf("give a file its name: %w", err)
		}
		w.dirty[dir] = true
		return to, nil
	}
	_ = w.root.Remove(temp)
	return "", errors.New("too many broken files have the name of one that is missing")
}

// temp writes a file under a temporary name, synced.
func (w *writer) temp(dir string, data []byte) (string, error) {
	for try := range maxTries {
		name := path.Join(dir, fmt.Sprintf("%s%s-%d%s", tempPrefix, w.machine, try, tempSuffix))
		file, err := w.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", fmt.Errorf("write a file: %w", err)
		}
		_, err = file.Write(data)
		if err = errors.Join(err, w.fsync(file), file.Close()); err != nil {
			_ = w.root.Remove(name)
			return "", fmt.Errorf("write a file: %w", err)
		}
		return name, nil
	}
	return "", errors.New("write a file: every temporary name is taken")
}

// sweep removes what this machine left half written in a folder when a stick was pulled.
func (w *writer) sweep(dir string) {
	if w.swept[dir] {
		return
	}
	w.swept[dir] = true
	d, err := w.root.Open(dir)
	if err != nil {
		return
	}
	defer d.Close() //nolint:errcheck // read only
	list, err := d.ReadDir(-1)
	if err != nil {
		return
	}
	for _, e := range list {
		if e.Type().IsRegular() && strings.HasPrefix(e.Name(), tempPrefix+w.machine+"-") && strings.HasSuffix(e.Name(), tempSuffix) {
			_ = w.root.Remove(path.Join(dir, e.Name()))
		}
	}
}

// sync makes the names durable. Some file systems of sticks sync no folders: that is no
// error, as each file is synced itself.
func (w *writer) sync() {
	for dir := range w.dirty {
		if d, err := w.root.Open(dir); err == nil {
			_ = w.fsync(d)
			_ = d.Close()
		}
	}
	clear(w.dirty)
}
