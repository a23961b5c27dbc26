package rehearse

import (
	"fmt"
	"sort"
	"strings"

	"loosebox/exam"
)

// Problem is one thing that is wrong with a case file.
type Problem struct {
	Line int // counted from 1; 0 where no line is to blame
	What string
}

// FileError says why a case file was not taken, line by line.
type FileError struct {
	File     string // as the caller named it, cleaned
	Problems []Problem
}

// maxProblems is how many problems are said at once.
const maxProblems = 20

// Error is a sentence, then one line a problem: "mare.yaml:7: ...".
func (e *FileError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s was not taken as a case; the other cases stay as they were", e.File)
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

// add keeps a problem; the words are cleaned because they quote the file.
func (e *FileError) add(line int, format string, args ...any) {
	e.Problems = append(e.Problems, Problem{line, exam.CleanLine(fmt.Sprintf(format, args...), 300)})
}

// orNil is the error, its problems in order of lines, or nil where there is none.
func (e *FileError) orNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	sort.SliceStable(e.Problems, func(i, j int) bool { return e.Problems[i].Line < e.Problems[j].Line })
	return e
}

// quote shows a word of the file, short and harmless.
func quote(text string) string { return fmt.Sprintf("%q", exam.CleanLine(text, 40)) }

// list joins the words that could have been meant.
func list[T ~string](words []T) string {
	text := make([]string, len(words))
	for i, w := range words {
		text[i] = string(w)
	}
	return strings.Join(text, ", ")
}
