package due

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"loosebox/exam"
)

// maxProblems is how many bad lines are said at once.
const maxProblems = 20

// Problem is what is wrong with one line of a file; line 0 is the whole file.
type Problem struct {
	Line   int
	Reason string
}

// FileError lists the bad lines of a schedule. Nothing of the file was taken.
type FileError struct {
	Name     string
	Problems []Problem
}

// Error says what happened, what is safe, then each bad line as name:line: reason.
func (e *FileError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "the schedule %s was not taken; the schedule in use stays as it was. Correct it and try again:", e.Name)
	for i, p := range e.Problems {
		if i == maxProblems {
			fmt.Fprintf(&b, "\nand %d more", len(e.Problems)-i)
			break
		}
		fmt.Fprintf(&b, "\n%s:%d: %s", e.Name, p.Line, p.Reason)
	}
	return b.String()
}

func (e *FileError) add(line int, format string, args ...any) {
	e.Problems = append(e.Problems, Problem{line, exam.CleanLine(fmt.Sprintf(format, args...), 300)})
}

func (e *FileError) orNil() error {
	if len(e.Problems) == 0 {
		return nil
	}
	return e
}

// record is one line of a CSV file with the right number of trimmed cells.
type record struct {
	line  int
	cells []string
}

// records reads a CSV file with the named columns; what is wrong goes to bad.
func records(data []byte, want []string, bad *FileError) []record {
	if bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF}) {
		bad.add(1, "the file is UTF-16; save it as CSV in UTF-8")
		return nil
	}
	cr := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\uFEFF"))))
	cr.Comment, cr.FieldsPerRecord = '#', -1
	var out []record
	header := false
	for {
		cells, err := cr.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			if !header {
				bad.add(1, "no line names the columns; it must read %s", strings.Join(want, ","))
			}
			return out
		case errors.As(err, &parse):
			bad.add(parse.StartLine, "not CSV: %s", parse.Err)
			continue
		case err != nil:
			bad.add(0, "the file cannot be read: %v", err)
			return nil
		}
		line, _ := cr.FieldPos(0)
		if blank(cells) {
			continue
		}
		if !header {
			if got := strings.ToLower(strings.ReplaceAll(strings.Join(cells, ","), " ", "")); got != strings.Join(want, ",") {
				bad.add(line, "the first line must name the columns: %s", strings.Join(want, ","))
				return nil
			}
			header = true
			continue
		}
		if reason := badCells(cells, len(want)); reason != "" {
			bad.add(line, "%s", reason)
			continue
		}
		out = append(out, record{line, cells})
	}
}

func blank(cells []string) bool { return strings.TrimSpace(strings.Join(cells, "")) == "" }

// badCells trims the cells in place and says what is wrong with them.
func badCells(cells []string, want int) string {
	if len(cells) != want {
		return fmt.Sprintf("%d columns instead of %d; text with a comma needs double quotes", len(cells), want)
	}
	for i, c := range cells {
		if !utf8.ValidString(c) || strings.ContainsFunc(c, func(r rune) bool { return !unicode.IsPrint(r) }) {
			return fmt.Sprintf("column %d holds what cannot be printed", i+1)
		}
		if utf8.RuneCountInString(c) > 300 {
			return fmt.Sprintf("column %d has more than 300 characters", i+1)
		}
		cells[i] = strings.TrimSpace(c)
	}
	return ""
}
