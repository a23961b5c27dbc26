package server

import (
	"bytes"
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
	text       []byte // of the file, as it was added last
	changed    func() // is called without the lock

	mu        sync.Mutex
	now       roster.Roster
	unwritten bool // statements of now may not be on the disk
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

// readRoster reads a practice's file. The error names the file.
func readRoster(file string) (r roster.Roster, err error) {
	text, err := readText(file)
	if err == nil {
		r, err = parseRoster(file, text)
	}
	return r, err
}

// readText is what a practice's file holds, at most roster.MaxText bytes. The error names the file.
func readText(file string) (text []byte, err error) {
	info, err := os.Stat(file)
	if err == nil && info.Size() > roster.MaxText {
		err = roster.ErrText
	}
	if err == nil {
		text, err = os.ReadFile(file)
	}
	return text, unreadable(file, err)
}

func parseRoster(file string, text []byte) (roster.Roster, error) {
	r, err := roster.ReadAnswer(text)
	return r, unreadable(file, err)
}

func unreadable(file string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("the practice's file %s cannot be read: %w", file, err)
}

// read reads the file and adds new statements; fresh is how many. A text that was added before is not looked at again. The
// text is compared, not the time of the file: a clock may be coarse, and a file may be copied with its old time.
func (p *practice) read() (fresh int, err error) {
	text, err := readText(p.file)
	if err != nil || bytes.Equal(text, p.text) {
		return 0, err
	}
	r, err := parseRoster(p.file, text)
	if err == nil {
		fresh, err = p.add(r.Said)
	}
	if err == nil {
		p.text = text
	}
	return fresh, err
}

// readAgain is read while the hub runs: a file that is no longer there changes nothing.
func (p *practice) readAgain() (fresh int, err error) {
	if p.file == "" {
		return 0, nil
	}
	if fresh, err = p.read(); errors.Is(err, fs.ErrNotExist) {
		return 0, nil
	}
	return fresh, err
}

// add adds statements, and writes them to disk if some are new or were not written; fresh is how many are new.
func (p *practice) add(said []roster.Statement) (fresh int, err error) {
	fresh, err = p.take(said)
	if fresh > 0 {
		p.changed()
	}
	return fresh, err
}

func (p *practice) take(said []roster.Statement) (fresh int, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, s := range said {
		if !p.now.None() && !s.Practice.Key.Equal(p.now.Practice.Key) {
			return fresh, fmt.Errorf("it is of the practice %q; this hub is of %q: nothing was changed", s.Practice.Name, p.now.Practice.Name)
		}
		if p.now.Add(s) {
			fresh++
			p.unwritten = true
		}
	}
	if p.unwritten {
		err = writeFile(p.kept, p.now.Answer(), 0o600)
		p.unwritten = err != nil
	}
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
