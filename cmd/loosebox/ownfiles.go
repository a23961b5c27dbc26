package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"

	"loosebox/exam/judge"
	"loosebox/exam/routinefile"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/storage/outside"
)

// tables reads the tables that are built in and the practice's own files over
// them. A file that is refused is named in a sentence, and what is built in stays.
func (e *env) tables() error {
	if e.steps != nil {
		return nil
	}
	table, err := ranges.BuiltIn()
	if err != nil {
		return fmt.Errorf("the built-in ranges cannot be read: %w", err)
	}
	e.steps, e.routines, e.ranges = steps.Table(), steps.Routines(), table
	e.readPracticeRanges()
	e.readOwnRoutines()
	e.judge = judge.New(e.ranges, e.steps)
	return nil
}

func (e *env) readPracticeRanges() {
	f, err := e.openOwn(practiceRanges)
	if err != nil {
		if !errors.Is(err, os.ErrNotExist) {
			e.problem("the practice's ranges cannot be read (%v); the built-in ranges are used", err)
		}
		return
	}
	defer f.Close() //nolint:errcheck // read only
	table, err := e.ranges.With(f, practiceRanges)
	if err != nil {
		e.problem("the practice's ranges are refused; the built-in ranges are used: %v", err)
		return
	}
	e.ranges = table
}

func (e *env) readOwnRoutines() {
	names, problem := e.ownFiles(ownRoutines)
	if problem != "" {
		e.problem("%s", problem)
	}
	for _, name := range names {
		f, err := outside.Open(name, maxOwnFile)
		if err != nil {
			e.problem("the routine %s cannot be read: %v", filepath.Base(name), err)
			continue
		}
		r, err := routinefile.Read(f, filepath.Base(name), e.steps)
		_ = f.Close() // read only
		if err != nil {
			e.problem("a routine is refused; the others are used: %v", err)
			continue
		}
		if _, taken := steps.Find(e.routines, r.Name); taken {
			e.problem("%s: the name %q belongs to another routine; give it its own", filepath.Base(name), r.Name)
			continue
		}
		e.routines = append(e.routines, r)
	}
}

// openOwn opens a practice's own file in the data folder.
func (e *env) openOwn(name string) (io.ReadCloser, error) {
	dir := e.dataDir()
	if dir == "" {
		return nil, fs.ErrNotExist
	}
	return outside.Open(filepath.Join(dir, name), maxOwnFile)
}

// ownFiles are the YAML files of a practice's own folder, by name. Of too many none
// is read, and the problem says so.
func (e *env) ownFiles(folder string) (names []string, problem string) {
	dir := e.dataDir()
	if dir == "" {
		return nil, ""
	}
	names, err := filepath.Glob(filepath.Join(dir, folder, "*.yaml"))
	if err != nil {
		return nil, ""
	}
	if len(names) > maxOwnFiles {
		return nil, fmt.Sprintf("the folder %s holds %d files, and none is read: %d are the most", folder, len(names), maxOwnFiles)
	}
	sort.Strings(names)
	return names, ""
}

func (e *env) problem(format string, args ...any) {
	e.problems = append(e.problems, fmt.Sprintf(format, args...))
}

// tell writes the problems to the person once.
func (e *env) tell() {
	for _, p := range e.problems {
		e.say(p)
	}
	e.problems = nil
}

// Names of a practice's own files in the data folder.
const (
	practiceRanges = "ranges.csv"
	ownRoutines    = "routines"
)

// Bounds of a practice's own files: bytes of one, and how many a folder has.
const (
	maxOwnFile  = 1 << 20
	maxOwnFiles = 200
)
