package steps

import (
	"fmt"
	"sort"
	"strings"

	"loosebox/exam"
)

// Problem is one thing that is wrong with a routine file.
type Problem struct {
	Line int // counted from 1; 0 where no line is to blame
	What string
}

// FileError says why a routine file was not taken, line by line.
type FileError struct {
	File     string // as the caller named it, cleaned
	Problems []Problem
}

// maxProblems is how many problems are said at once.
const maxProblems = 20

// Error is a sentence, then one line a problem: "own.yaml:7: ...".
func (e *FileError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s was not taken as a routine; the other routines stay as they were", e.File)
	for i, p := range e.Problems {
		if i == maxProblems {
			fmt.Fprintf(&b, "\n%s: and %d more", e.File, len(e.Problems)-i)
			break
		}
		if p.Line == 0 {
			fmt.Fprintf(&b, "\n%s: %s", e.File, p.What)
			continue
		}
		fmt.Fprintf(&b, "\n%s:%d: %s", e.File, p.Line, p.What)
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

// nearest is the step that was probably meant: the one whose identity or name
// needs the fewest changes, if they are few. The second result is false where
// none is near.
func nearest(t *exam.Steps, typed string) (exam.StepID, bool) {
	typed = strings.ToLower(exam.CleanLine(typed, 60))
	best, found := max(2, len(typed)/3)+1, exam.StepID("")
	for _, s := range t.All() {
		for _, word := range []string{string(s.ID), strings.ToLower(s.Name), strings.ToLower(s.Short)} {
			d := changes(typed, word)
			if len(typed) > 2 && strings.HasPrefix(word, typed) {
				d = 1 // cut short
			}
			if d < best {
				best, found = d, s.ID
			}
		}
	}
	return found, found != ""
}

// changes counts the letters to insert, drop or replace to turn a into b
// (Levenshtein 1966).
func changes(a, b string) int {
	from, to := []rune(a), []rune(b)
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range from {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range to {
			cost := diagonal
			if x != y {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(to)]
}
