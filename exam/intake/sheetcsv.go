package intake

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// maxBroken is how many lines of a file may have wrong quotes before the rest is not read.
const maxBroken = 100

// readCSV reads all rows. A line whose quotes are not right ends a strict reading; a loose one keeps the line apart
// and goes on below it.
func (s *sheet) readCSV(data []byte, e *FileError, loose bool) {
	s.comma = separator(data, loose)
	line := 0 // lines above the data that is left
	for {
		used, err := s.readRows(data, e, line)
		var at *csv.ParseError
		switch {
		case len(e.Problems) > 0 || errors.Is(err, io.EOF):
			return
		case !errors.As(err, &at):
			e.Add(0, "%v", err)
			return
		case !loose:
			e.Add(line+at.StartLine, "the quotes are not right (%v); the lines below it were not read", at.Err)
			return
		case len(s.broken) == maxBroken:
			e.Add(line+at.StartLine, "more than %d lines have quotes that are not right", maxBroken)
			return
		}
		rest := data[used:]
		for n := 1; n < at.StartLine-bytes.Count(data[:used], []byte("\n")) && len(rest) > 0; n++ { // empty lines above it
			_, rest, _ = bytes.Cut(rest, []byte("\n"))
		}
		bad, below, _ := bytes.Cut(rest, []byte("\n"))
		fields := strings.Split(strings.ReplaceAll(strings.TrimSuffix(string(bad), "\r"), `"`, ""), string(s.comma))
		s.broken = append(s.broken, sheetRow{line: line + at.StartLine, cells: cleaned(fields, maxCell), wrong: fmt.Sprintf("the quotes of this line are not right (%v)", at.Err)})
		line += at.StartLine
		data = below
	}
}

// readRows reads rows until the end or the first error, and says how many bytes were read before it.
func (s *sheet) readRows(data []byte, e *FileError, above int) (used int, err error) {
	in := csv.NewReader(bytes.NewReader(data))
	in.Comma = s.comma
	in.FieldsPerRecord = -1
	in.ReuseRecord = true
	for {
		used = int(in.InputOffset())
		fields, err := in.Read()
		if err != nil {
			return used, err
		}
		line, _ := in.FieldPos(0)
		if !s.add(e, above+line, fields) {
			return used, nil
		}
	}
}

// separator is the sign that separates most fields of the first line: a comma, a semicolon or a tab. What
// stands in quotes does not count. Read loosely, a line without any is a title, and the first few lines count.
func separator(data []byte, loose bool) rune {
	count := map[rune]int{}
	quoted, lines := false, 0
	for _, c := range string(data[:min(len(data), 64<<10)]) {
		switch {
		case c == '"':
			quoted = !quoted
		case c == '\n' && !quoted:
			if lines++; !loose || lines > 30 {
				return most(count)
			}
		case !quoted:
			count[c]++
		}
	}
	return most(count)
}

func most(count map[rune]int) rune {
	best := ','
	for _, c := range []rune{';', '\t'} {
		if count[c] > count[best] {
			best = c
		}
	}
	return best
}
