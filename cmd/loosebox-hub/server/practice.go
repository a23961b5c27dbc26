package server

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"

	"loosebox/exam/roster"
)

// keptName is the file in the data folder with all statements about the laptops.
const keptName = "practice.txt"

// practice is the roster of the hub: from the file that it was started with, and from statements that laptops bring.
type practice struct {
	file, kept string
	changed    func() // is called without the lock

	mu  sync.Mutex
	now roster.Roster
}

// openPractice reads the kept statements, and those of the file.
func openPractice(dir, file string) (*practice, error) {
	p := &practice{file: file, kept: filepath.Join(dir, keptName), changed: func() {}}
	kept, err := readRoster(p.kept)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	p.now = kept
	if file != "" {
		if _, err := p.read(); err != nil {
			return nil, err
		}
	}
	if p.now.None() {
		return nil, errors.New("name the practice's file with --practice: on the first laptop, loosebox share hub -o FILE writes it")
	}
	return p, nil
}

func readRoster(file string) (roster.Roster, error) {
	info, err := os.Stat(file)
	if err == nil && info.Size() > roster.MaxText {
		err = roster.ErrText
	}
	var data []byte
	if err == nil {
		data, err = os.ReadFile(file)
	}
	var r roster.Roster
	if err == nil {
		r, err = roster.ReadAnswer(data)
	}
	if err != nil {
		return r, fmt.Errorf("the practice's file %s cannot be read: %w", file, err)
	}
	return r, nil
}

// read reads the file again and adds new statements; fresh is how many.
func (p *practice) read() (fresh int, err error) {
	r, err := readRoster(p.file)
	if err != nil {
		return 0, err
	}
	return p.add(r.Said)
}

// add adds statements, and writes them to disk if some are new; fresh is how many.
func (p *practice) add(said []roster.Statement) (fresh int, err error) {
	p.mu.Lock()
	for _, s := range said {
		if !p.now.None() && !s.Practice.Key.Equal(p.now.Practice.Key) {
			p.mu.Unlock()
			return 0, fmt.Errorf("it is of the practice %q; this hub is of %q: nothing was changed", s.Practice.Name, p.now.Practice.Name)
		}
		if p.now.Add(s) {
			fresh++
		}
	}
	text := p.now.Answer()
	p.mu.Unlock()
	if fresh == 0 {
		return 0, nil
	}
	err = writeFile(p.kept, text, 0o600)
	p.changed()
	return fresh, err
}

func (p *practice) roster() roster.Roster {
	p.mu.Lock()
	defer p.mu.Unlock()
	r := p.now
	r.Said = slices.Clone(r.Said)
	return r
}

// writeFile replaces a file atomically.
func writeFile(name string, data []byte, mode fs.FileMode) error {
	f, err := os.CreateTemp(filepath.Dir(name), filepath.Base(name)+".new-*")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close()); err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		_ = os.Remove(f.Name())
		return fmt.Errorf("write %s: %w", name, err)
	}
	return nil
}
