package ranges

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// maxProblems is how many bad lines an error lists.
const maxProblems = 20

// Problem is what is wrong with one line of a file.
type Problem struct {
	Line   int // from 1
	Reason string
}

// FileError lists the bad lines of a ranges file, the first 20 of them. Nothing of the file was taken.
type FileError struct {
	Name     string // as given, without what cannot be printed
	Problems []Problem
	More     int // bad lines beyond those listed
}

// Error says what happened, what is safe, and then each bad line as name:line: reason.
func (e *FileError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "the ranges file %s was not taken; the ranges in use stay as they were. Correct it and try again:", e.Name)
	for _, p := range e.Problems {
		fmt.Fprintf(&b, "\n%s:%d: %s", e.Name, p.Line, p.Reason)
	}
	if e.More > 0 {
		fmt.Fprintf(&b, "\nand %d more", e.More)
	}
	return b.String()
}

// problems gathers the bad lines of one file.
type problems struct {
	name string
	list []Problem
}

func newProblems(name string) *problems {
	name = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return '?'
		}
		return r
	}, name)
	if name == "" {
		name = "without a name"
	}
	return &problems{name: name}
}

func (p *problems) add(line int, format string, args ...any) {
	p.list = append(p.list, Problem{line, fmt.Sprintf(format, args...)})
}

// err is nil when every line was good, and otherwise a *FileError with the bad lines in their order.
func (p *problems) err() error {
	if len(p.list) == 0 {
		return nil
	}
	slices.SortStableFunc(p.list, func(a, b Problem) int { return cmp.Compare(a.Line, b.Line) })
	listed := min(len(p.list), maxProblems)
	return &FileError{Name: p.name, Problems: p.list[:listed], More: len(p.list) - listed}
}
