package main

import (
	"fmt"
	"path/filepath"
	"sync"

	"loosebox/exam/rehearse"
	"loosebox/storage/outside"
)

// ownCases is the folder of a teacher's cases, in the data folder.
const ownCases = "cases"

// cases reads the cases to rehearse with when they are first asked for: those
// built in and those of the data folder. A file that is refused is a sentence,
// and the others stand.
func (e *env) cases() func() ([]rehearse.Case, []string) {
	type read struct {
		cases    []rehearse.Case
		problems []string
	}
	once := sync.OnceValue(func() read {
		cases, problems := e.readCases()
		return read{cases, problems}
	})
	return func() ([]rehearse.Case, []string) {
		r := once()
		return r.cases, r.problems
	}
}

func (e *env) readCases() (cases []rehearse.Case, problems []string) {
	cases, err := rehearse.Cases(e.steps, e.ranges)
	if err != nil {
		return nil, []string{err.Error()}
	}
	names, problem := e.ownFiles(ownCases)
	if problem != "" {
		problems = append(problems, problem)
	}
	for _, name := range names {
		c, err := e.readCase(name, cases)
		if err != nil {
			problems = append(problems, err.Error())
			continue
		}
		cases = append(cases, c)
	}
	return cases, problems
}

// readCase reads a teacher's case beside those that are there already.
func (e *env) readCase(name string, cases []rehearse.Case) (rehearse.Case, error) {
	f, err := outside.Open(name, maxOwnFile)
	if err != nil {
		return rehearse.Case{}, fmt.Errorf("the case %s cannot be read: %w", filepath.Base(name), err)
	}
	defer f.Close() //nolint:errcheck // read only
	known := rehearse.Existing{Routines: e.routines, Cases: cases}
	return rehearse.ReadOwnCase(f, filepath.Base(name), e.steps, e.ranges, known)
}
