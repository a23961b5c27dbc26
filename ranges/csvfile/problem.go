// Package csvfile reads CSV tables with named columns that people write for the program, and lists everything that is
// wrong with a file, so that all of it can be corrected at once. It imports nothing else of the program.
package csvfile

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// maxProblems is how many problems an error lists. maxKept is how many are kept until OrNil sorts them by line; later
// ones are only counted.
const (
	maxProblems = 20
	maxKept     = 1000
)

// Problem is one thing that is wrong with a file.
type Problem struct {
	Line   int    // counted from 1; 0 where no line is to blame
	Column string // as the file names it; empty where no column is to blame
	What   string
}

// FileError says why a file was refused, line by line. Nothing of it was taken.
type FileError struct {
	File     string // as given, without what cannot be printed
	says     string
	Problems []Problem
	More     int // problems beyond those listed
}

// New makes a FileError without problems; OrNil of it is nil. Says is the first sentence of the message: what happened to
// the file, with %s for its name, and what is safe.
func New(file, says string) *FileError {
	file = Printable(file, 300)
	if file == "" {
		file = "without a name"
	}
	return &FileError{File: file, says: says}
}

// Error is what happened, then one line for each problem: "exams.csv:7: temp.rectal: ...".
func (e *FileError) Error() string {
	var b strings.Builder
	b.WriteString(strings.Replace(e.says, "%s", e.File, 1))
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
		fmt.Fprintf(&b, "\nand %d more", e.More)
	}
	return b.String()
}

// Add adds a problem of a line, counted from 1; 0 for a problem of the whole file.
func (e *FileError) Add(line int, format string, args ...any) { e.AddAt(line, "", format, args...) }

// AddAt adds a problem of a line and a column. Control characters are replaced, so the message may quote the file.
func (e *FileError) AddAt(line int, column, format string, args ...any) {
	if len(e.Problems) == maxKept {
		e.More++
		return
	}
	e.Problems = append(e.Problems, Problem{line, Printable(column, 60), Printable(fmt.Sprintf(format, args...), 400)})
}

// OrNil is nil where no problem was added; else e itself, a *FileError with its first 20 problems in the order of their
// lines and the rest counted in More.
func (e *FileError) OrNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	slices.SortStableFunc(e.Problems, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
	listed := min(len(e.Problems), maxProblems)
	e.More += len(e.Problems) - listed
	e.Problems = e.Problems[:listed]
	return e
}

// Printable is the text on one line, cut to most characters. What cannot be printed becomes "?", blanks in a row one.
func Printable(text string, most int) string {
	runes := []rune(text)
	for i, r := range runes {
		if !unicode.IsPrint(r) {
			runes[i] = '?'
		}
	}
	return strings.Join(strings.Fields(string(runes[:min(len(runes), most)])), " ")
}

// Quoted is text of a file for a message: at most 40 characters, in double quotes, escaped as in Go, ASCII alone.
func Quoted(text string) string {
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "..."
	}
	return fmt.Sprintf("%+q", text)
}
