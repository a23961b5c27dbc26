//go:build unix && !solaris && !aix

package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sync"

	"loosebox/cmd/termtest"
	"loosebox/exam"
	"loosebox/storage"
)

// built is the program as people have it, and an invented yard that it wrote, with the digest of its lines.
type built struct{ dir, program, yard, digest string }

// theProgram is built once, when a trial first needs it.
var theProgram = sync.OnceValues(func() (built, error) {
	dir := os.Getenv(builtVariable)
	b := built{dir: dir, program: filepath.Join(dir, "loosebox"), yard: filepath.Join(dir, "yard")}
	if err := termtest.Build(b.program, builtWork); err != nil {
		return b, err
	}
	cmd := exec.Command(b.program, "demo", "--keep", b.yard)
	cmd.Env = termtest.Env(dir, b.yard) // the key in the yard, so that its copies have it
	if out, err := cmd.CombinedOutput(); err != nil {
		return b, fmt.Errorf("make the yard: %w: %s", err, out)
	}
	var err error
	if b.digest, _, err = contents(b.yard); err != nil {
		return b, err
	}
	return b, os.Chmod(dir, 0o755) //nolint:gosec // a user without rights starts it
})

const phrase = "four dry oat bags"

// place is the folders of one run: the record, other output, and temporary files.
type place struct {
	built
	dir, data, out, temp string
}

// newPlace makes a place with a copy of the yard.
func newPlace(dir string) (place, error) {
	b, err := theProgram()
	if err != nil {
		return place{}, err
	}
	p := place{b, dir, filepath.Join(dir, "record"), filepath.Join(dir, "out"), filepath.Join(dir, "temp")}
	for _, d := range []string{p.out, p.temp} {
		if err := os.MkdirAll(d, 0o700); err != nil {
			return p, err
		}
	}
	return p, os.CopyFS(p.data, os.DirFS(b.yard))
}

// command is the program with arguments, not started yet, and what it will write to stderr.
func (p place) command(args ...string) (*exec.Cmd, *stderr) {
	cmd, said := exec.Command(p.program, args...), new(stderr)
	cmd.Env = append(termtest.Env(p.out, p.data), "LOOSEBOX_PASSPHRASE="+phrase, "TMPDIR="+p.temp)
	cmd.Dir, cmd.Stderr = p.out, said
	return cmd, said
}

// run runs the program to its end.
func (p place) run(args ...string) error {
	cmd, said := p.command(args...)
	if err := cmd.Run(); err != nil {
		return fmt.Errorf("%v: %w: %s", args, err, said.text)
	}
	return nil
}

// strays counts leftover temporary files.
func (p place) strays() (n int, err error) {
	half := regexp.MustCompile(`\.part$|\.new-\d+$|\.restoring-|^loosebox-drill-|^loosebox-manual-`)
	err = filepath.WalkDir(p.dir, func(path string, f fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if half.MatchString(f.Name()) {
			n++
			if f.IsDir() {
				return fs.SkipDir
			}
		}
		return nil
	})
	return n, err
}

// contents checks a record and returns the digest of all its lines; empty where there is no record.
func contents(dir string) (digest string, lines int, err error) {
	r, err := storage.Open(dir, storage.Options{ReadOnly: true})
	if errors.Is(err, exam.ErrNotFound) {
		return "", 0, nil
	}
	if err != nil {
		return "", 0, broken("%v", err)
	}
	defer func() { err = errors.Join(err, r.Close()) }()
	if err := whole(r); err != nil {
		return "", 0, err
	}
	h := sha256.New()
	note := func(what any) error {
		lines++
		_, err := fmt.Fprintf(h, "%+v\n", what)
		return err
	}
	err = r.Walk(context.Background(), func(l exam.HorseLine) error { return note(l) }, func(list []exam.Entry) error {
		for _, e := range list {
			if err := note(e.Hash); err != nil {
				return err
			}
		}
		return nil
	}, func(l exam.RoundLine) error { return note(l) })
	return fmt.Sprintf("%x", h.Sum(nil)), lines, err
}
