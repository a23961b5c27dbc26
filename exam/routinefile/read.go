// Package routinefile reads a person's own routine, written in YAML, and names every line to put right.
package routinefile

import (
	"io"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// FileError says why a routine was refused, line by line. Nothing of it was taken.
type FileError = ownfile.FileError

// routineFile says what a routine file is and bounds it.
func routineFile() ownfile.FileKind {
	return ownfile.FileKind{
		Noun: "routine", Pages: "a page of text", Begins: "begins with keys such as name: and steps:",
		Bytes: 1 << 20, Lines: 1000, Columns: 400, Flow: 1000,
	}
}

// Read reads a person's own routine, written in YAML:
//
//	name: yard-round
//	title: Yard round
//	about: mornings, every horse
//	steps:
//	  - breath.rate
//	  - step: gut.sounds
//	    sites: [left upper, left lower]
//	    heading: left side
//	  - step: gut.sounds
//	    sites: [right upper, right lower]
//
// A step written alone is asked at all its sites. The name file stands in the
// messages only. A file that cannot be used gives a *FileError that names every
// line to put right.
func Read(r io.Reader, file string, t *exam.Steps) (exam.Routine, error) {
	e := ownfile.New(file, routineFile())
	data, err := ownfile.Read(r, e)
	if err != nil {
		return exam.Routine{}, err
	}
	if err := e.OrNil(); err != nil {
		return exam.Routine{}, err
	}
	top := ownfile.Parse(e, data)
	if top == nil {
		return exam.Routine{}, e.OrNil()
	}
	own := exam.Routine{Own: true}
	f := &form{FileError: e, table: t, seen: map[exam.Key]int{}}
	f.read(top, &own)
	if err := e.OrNil(); err != nil {
		return exam.Routine{}, err
	}
	return own, nil
}
