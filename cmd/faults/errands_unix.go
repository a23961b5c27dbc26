//go:build unix && !solaris && !aix

package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"time"
)

// errand is a run of the program that takes long enough to be broken off.
type errand struct {
	name string
	args []string
	// result is the file or folder that it makes, below out; it must be complete or absent.
	result string
	whole  func(p place, path string) error
	// empty is true where it starts in a folder without a record.
	empty bool
}

// Names of files made once for all errands, in the folder of the trial.
const (
	wholeBackup = "whole.tar.age"
	wholeExport = "whole.jsonl"
)

func errands(dir string) []errand {
	return []errand{
		{name: "backup", args: []string{"backup", "b.tar.age"}, result: "b.tar.age", whole: wholeCopy},
		{name: "restore", args: []string{"--data", "back", "restore", filepath.Join(dir, wholeBackup)}, result: "back", whole: wholeRecord},
		{name: "drill", args: []string{"backup", "--drill"}},
		{name: "export", args: []string{"export", "-o", "e.jsonl"}, result: "e.jsonl", whole: sameExport},
		{name: "rebuild", args: []string{"rebuild"}},
		{name: "import", args: []string{"import", filepath.Join(dir, wholeExport)}, empty: true},
		{name: "first start and settings", args: []string{"backup", "--new-key", "key"}, result: "key", whole: anything, empty: true},
	}
}

// wholeCopy checks a backup: it restores it and compares the record with the yard.
func wholeCopy(p place, file string) error {
	to := filepath.Join(p.temp, "restored")
	defer removeAll(to)
	if err := p.run("--data", to, "restore", file); err != nil {
		return err
	}
	return wholeRecord(p, to)
}

// wholeRecord checks that a record holds the same as the yard.
func wholeRecord(p place, dir string) error {
	got, _, err := contents(dir)
	if err == nil && got != p.digest {
		err = broken("%s is not the record that was backed up", dir)
	}
	return err
}

func sameExport(p place, file string) error {
	want, err := os.ReadFile(filepath.Join(p.dir, "..", wholeExport))
	if err != nil {
		return err
	}
	got, err := os.ReadFile(file)
	if err == nil && sha256.Sum256(got) != sha256.Sum256(want) {
		err = broken("%s is there and not whole", file)
	}
	return err
}

func anything(_ place, file string) error {
	data, err := os.ReadFile(file)
	if err == nil && !bytes.Contains(data, []byte("age-encryption.org/v1")) {
		err = broken("%s is there and not whole", file)
	}
	return err
}

// begin makes a new place for an errand, without a record where it needs none.
func (e errand) begin(dir string) (place, error) {
	removeAll(dir)
	p, err := newPlace(dir)
	if err == nil && e.empty {
		removeAll(p.data)
	}
	return p, err
}

// time is how long an errand takes undisturbed.
func (e errand) time(dir string) (time.Duration, error) {
	p, err := e.begin(dir)
	if err != nil {
		return 0, err
	}
	start := time.Now() //nolint:forbidigo // this program measures
	if err := p.run(e.args...); err != nil {
		return 0, err
	}
	return time.Since(start), e.look(p)
}

// look checks what an errand left under its final name.
func (e errand) look(p place) error {
	if !e.empty {
		if err := wholeRecord(p, p.data); err != nil {
			return fmt.Errorf("the record: %w", err)
		}
	} else if _, lines, err := contents(p.data); err != nil {
		return fmt.Errorf("the new record: %w", err)
	} else if lines > 0 {
		if err := wholeRecord(p, p.data); err != nil {
			return fmt.Errorf("the new record: %w", err)
		}
	}
	if e.result == "" {
		return nil
	}
	path := filepath.Join(p.out, e.result)
	if _, err := os.Lstat(path); err != nil {
		return nil //nolint:nilerr // it is not there
	}
	return e.whole(p, path)
}
