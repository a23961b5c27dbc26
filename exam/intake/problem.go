package intake

import (
	"fmt"
	"sort"
	"strings"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// Problem is one thing that is wrong with a file.
type Problem struct {
	Line   int    // counted from 1; 0 where no line is to blame
	Column string // as the file names it; empty where no column is to blame
	What   string
}

// FileError says why a file was refused, line by line.
type FileError struct {
	File     string // as the caller named it, cleaned
	Problems []Problem
	More     int // problems beyond those listed
}

// maxProblems is how many problems are said at once.
const maxProblems = 20

// Error is a sentence, then one line a problem: "exams.csv:7: temp.rectal: ...".
func (e *FileError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s was refused as a whole and nothing was taken from it; put this right and try again", e.File)
	for _, p := range e.Problems {
		b.WriteString("\n" + e.File)
		if p.Line > 0 {
			fmt.Fprintf(&b, ":%d", p.Line)
		}
		if p.Column != "" {
			b.WriteString(": " + p.Column)
		}
		b.WriteString(": " + p.What)
	}
	if e.More > 0 {
		fmt.Fprintf(&b, "\n%s: and %d more", e.File, e.More)
	}
	return b.String()
}

func newFileError(file string) *FileError {
	file = exam.CleanLine(file, 0)
	if file == "" {
		file = "the file"
	}
	return &FileError{File: file}
}

// add keeps a problem; its words are cleaned because they quote the file.
func (e *FileError) add(line int, column, format string, args ...any) {
	if len(e.Problems) >= maxProblems {
		e.More++
		return
	}
	what := exam.CleanLine(fmt.Sprintf(format, args...), 400)
	e.Problems = append(e.Problems, Problem{line, exam.CleanLine(column, 60), what})
}

// orNil is the error, its problems in order of lines, or nil where there is none.
func (e *FileError) orNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	sort.SliceStable(e.Problems, func(i, j int) bool { return e.Problems[i].Line < e.Problems[j].Line })
	return e
}

// orMeant names what was probably meant, as the end of a sentence.
func orMeant(typed string, known []string) string {
	if i := ownfile.Nearest(typed, known); i >= 0 {
		return "; did you mean " + known[i] + "?"
	}
	return ""
}
