// Package outside opens files that other people and programs made. Only a regular
// file of a bounded size is read: a pipe that nobody writes into, a device without
// an end and a file of a gigabyte are refused in a sentence with its number.
package outside

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"loosebox/exam/bounded"
)

// ErrNoFile is wrapped where something is there that is no regular file.
var ErrNoFile = errors.New("is no regular file and is not read")

// Open opens a regular file of at most so many bytes; 0 for any size. A file that
// grows beyond that while it is read fails as well.
func Open(name string, most int64) (io.ReadCloser, error) {
	info, err := os.Stat(name) // a pipe would wait in Open for somebody who writes
	if err != nil {
		return nil, err
	}
	if err := regular(name, info, most); err != nil {
		return nil, err
	}
	f, err := os.OpenFile(name, os.O_RDONLY|noWait, 0)
	if err != nil {
		return nil, err
	}
	if info, err = f.Stat(); err == nil { // it may be another one by now
		err = regular(name, info, most)
	}
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return file{bounded.Reader(f, bounded.Limits{Bytes: most}), f}, nil
}

// ReadFile reads a regular file of at most so many bytes whole.
func ReadFile(name string, most int64) ([]byte, error) {
	f, err := Open(name, most)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // read only
	return io.ReadAll(f)
}

type file struct {
	io.Reader
	io.Closer
}

func regular(name string, info fs.FileInfo, most int64) error {
	switch {
	case info.IsDir():
		return fmt.Errorf("%s is a folder; it %w", name, ErrNoFile)
	case info.Mode()&fs.ModeNamedPipe != 0:
		return fmt.Errorf("%s is a pipe; it %w; a pipe is read as -", name, ErrNoFile)
	case !info.Mode().IsRegular():
		return fmt.Errorf("%s %w", name, ErrNoFile)
	case most > 0 && info.Size() > most:
		return fmt.Errorf("%s has %d bytes: %w", name, info.Size(), &bounded.Error{What: "file", Most: most})
	}
	return nil
}
