package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/judge"
	"loosebox/exam/rehearse"
	"loosebox/exam/routinefile"
	"loosebox/exam/steps"
	"loosebox/exam/volume"
	"loosebox/ranges"
	"loosebox/storage/outside"
	"loosebox/storage/unfinished"
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

// writeOwn puts a file in the place of an earlier one in one step.
func writeOwn(path string, value []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("make its folder: %w", err)
	}
	f, err := unfinished.Create(path+".new", "own")
	if err != nil {
		return err
	}
	defer f.Discard()
	if _, err := f.Write(value); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	if err := f.Finish(nil); err != nil {
		return err
	}
	return os.Rename(path+".new", path)
}

// readsOwn says why a file of the practice is refused.
func (e *env) readsOwn(key exam.SettingKey, file []byte) error {
	if err := e.tables(); err != nil {
		return err
	}
	folder, name, _ := strings.Cut(string(key), "/")
	in := bytes.NewReader(file)
	var err error
	switch folder {
	case practiceRanges:
		table, wrong := ranges.BuiltIn()
		if err = wrong; err == nil {
			_, err = table.With(in, practiceRanges)
		}
	case practiceSchedule:
		table, wrong := due.BuiltIn()
		if err = wrong; err == nil {
			_, err = table.With(in, practiceSchedule)
		}
	case practiceSyringes:
		_, err = volume.ReadSyringes(in, practiceSyringes)
	case ownRoutines:
		_, err = routinefile.Read(in, name, e.steps)
	case ownCases:
		cases, wrong := rehearse.Cases(e.steps, e.ranges)
		if err = wrong; err == nil {
			_, err = rehearse.ReadOwnCase(in, name, e.steps, e.ranges, rehearse.Existing{Routines: e.routines, Cases: cases})
		}
	}
	return err
}
