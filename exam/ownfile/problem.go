// Package ownfile reads the files that people write for the program: routines,
// cases. It bounds them, parses them, and gathers everything that is wrong with
// one, so that it can be put right in one go.
package ownfile

import (
	"fmt"
	"sort"
	"strings"

	"loosebox/exam/notation"
)

// Problem is one thing that is wrong with a file.
type Problem struct {
	Line int // counted from 1; 0 where no line is to blame
	What string
}

// FileError says why a file was refused, line by line. Nothing of it was taken.
type FileError struct {
	File     string // as the caller named it, cleaned
	Kind     FileKind
	Problems []Problem
}

// maxProblems is how many problems are said at once.
const maxProblems = 20

// New is an error about a file without a problem yet.
func New(file string, kind FileKind) *FileError {
	return &FileError{File: notation.CleanLine(file, 0), Kind: kind}
}

// Error is a sentence, then one line a problem: "own.yaml:7: ...".
func (e *FileError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s is refused as a %s; the other %ss stay as they were", e.File, e.Kind.Noun, e.Kind.Noun)
	for i, p := range e.Problems {
		switch {
		case i == maxProblems:
			fmt.Fprintf(&b, "\n%s: and %d more", e.File, len(e.Problems)-i)
			return b.String()
		case p.Line == 0:
			fmt.Fprintf(&b, "\n%s: %s", e.File, p.What)
		default:
			fmt.Fprintf(&b, "\n%s:%d: %s", e.File, p.Line, p.What)
		}
	}
	return b.String()
}

// Add keeps a problem; the words are cleaned because they quote the file.
func (e *FileError) Add(line int, format string, args ...any) {
	e.Problems = append(e.Problems, Problem{line, notation.CleanLine(fmt.Sprintf(format, args...), 300)})
}

// OrNil is the error, its problems in order of lines, or nil where there is none.
func (e *FileError) OrNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	sort.SliceStable(e.Problems, func(i, j int) bool { return e.Problems[i].Line < e.Problems[j].Line })
	return e
}

// Quote shows a word of the file, short and harmless.
func Quote(text string) string { return fmt.Sprintf("%q", notation.CleanLine(text, 40)) }
