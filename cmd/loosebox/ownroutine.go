package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"loosebox/exam"
	"loosebox/exam/routinefile"
	"loosebox/exam/steps"
	"loosebox/storage/unfinished"
)

// keepRoutine stores a person's own order as routines/NAME.yaml in the data folder. A file that was not read as that
// routine is never written over; the error then says what to do.
func (e *env) keepRoutine(r exam.Routine) error {
	folder := filepath.Join(e.dataDir(), ownRoutines)
	name := filepath.Join(folder, r.Name+".yaml")
	_, known := steps.Find(e.routines, r.Name)
	_, err := os.Lstat(name)
	there := err == nil
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("look for %s: %w", name, err)
	case there && !known:
		return fmt.Errorf("%s is there already and was not read: give it another name", name)
	case known && !there:
		return fmt.Errorf("the name %s belongs to another routine", r.Name)
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("make the folder of routines: %w", err)
	}
	if err := e.writeRoutine(name, r); err != nil {
		return err
	}
	e.routines = exam.WithRoutine(e.routines, r)
	return nil
}

// writeRoutine puts the file in the place of an earlier one in one step.
func (e *env) writeRoutine(name string, r exam.Routine) error {
	whole := name + ".new"
	if err := os.Remove(whole); err != nil && !errors.Is(err, fs.ErrNotExist) { // of a run that ended here
		return fmt.Errorf("remove %s: %w", whole, err)
	}
	f, err := unfinished.Create(whole, "routine")
	if err != nil {
		return err
	}
	defer f.Discard()
	if err := routinefile.Write(f, r, e.steps); err != nil {
		return err
	}
	if err := f.Finish(nil); err != nil {
		return err
	}
	if err := os.Rename(whole, name); err != nil {
		return fmt.Errorf("name the file of the routine: %w", err)
	}
	return nil
}
