package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"loosebox/exam"
	"loosebox/exam/routinefile"
	"loosebox/exam/steps"
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
	var text bytes.Buffer
	if err := routinefile.Write(&text, r, e.steps); err != nil {
		return err
	}
	if err := os.Remove(name + ".new"); err != nil && !errors.Is(err, fs.ErrNotExist) { // of a run that ended here
		return fmt.Errorf("remove %s.new: %w", name, err)
	}
	if err := writeOwn(name, text.Bytes()); err != nil {
		return err
	}
	e.routines = exam.WithRoutine(e.routines, r)
	return nil
}
