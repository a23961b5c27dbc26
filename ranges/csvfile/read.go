package csvfile

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

const (
	maxFile = 1 << 20 // bytes; the built-in tables are a twentieth of it
	maxCell = 300     // characters
)

// Line is one line of a file: its number, from 1, and the right number of clean, trimmed cells.
type Line struct {
	Number int
	Cells  []string
}

// Read reads CSV (RFC 4180) with the named columns in its first line; a line that begins with # is a comment. Problems of
// the file (larger than 1 MB, UTF-16, a wrong header) and of single lines go to bad; the sound lines are still returned.
// The error is for a reader that fails.
func Read(r io.Reader, columns []string, bad *FileError) ([]Line, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxFile+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("read %s: %w", bad.File, err)
	case len(data) > maxFile:
		bad.Add(1, "the file is larger than %d kB", maxFile>>10)
		return nil, nil
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}), bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		bad.Add(1, "the file is UTF-16; save it as CSV in UTF-8")
		return nil, nil
	}
	in := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\uFEFF"))))
	in.Comment, in.FieldsPerRecord = '#', -1
	var rows []Line
	header := false
	for {
		cells, err := in.Read()
		var parse *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			if !header {
				bad.Add(1, "no line names the columns; it must read %s", strings.Join(columns, ","))
			}
			return rows, nil
		case errors.As(err, &parse):
			bad.Add(parse.StartLine, "not CSV: %s", parse.Err)
			continue
		case err != nil:
			return nil, fmt.Errorf("read %s: %w", bad.File, err)
		}
		line, _ := in.FieldPos(0)
		switch reason := ""; {
		case isComment(cells):
		case !header:
			if reason = wrongHeader(cells, columns); reason != "" {
				bad.Add(line, "%s", reason)
				return nil, nil
			}
			header = true
		default:
			if reason = cleanCells(cells, len(columns)); reason != "" {
				bad.Add(line, "%s", reason)
				continue
			}
			rows = append(rows, Line{line, cells})
		}
	}
}

// isComment is also true of a comment that a spreadsheet quoted or padded with empty cells, and of an empty row.
func isComment(cells []string) bool {
	if strings.HasPrefix(strings.TrimSpace(cells[0]), "#") {
		return true
	}
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

func wrongHeader(cells, columns []string) string {
	got := make([]string, len(cells))
	for i, c := range cells {
		got[i] = strings.ToLower(strings.TrimSpace(c))
	}
	if slices.Equal(got, columns) {
		return ""
	}
	if len(cells) == 1 && strings.ContainsAny(cells[0], ";\t") {
		return "the columns are not parted by commas; save the file as comma-separated CSV"
	}
	return "the first line must name the columns: " + strings.Join(columns, ",")
}

// cleanCells trims the cells in place and says what is wrong with them, if anything.
func cleanCells(cells []string, want int) string {
	if len(cells) != want {
		return fmt.Sprintf("%d columns instead of %d; text with a comma needs double quotes", len(cells), want)
	}
	for i, c := range cells {
		if !utf8.ValidString(c) {
			return fmt.Sprintf("column %d is not UTF-8 text", i+1)
		}
		if n := utf8.RuneCountInString(c); n > maxCell {
			return fmt.Sprintf("column %d has %d characters; %d are the most", i+1, n, maxCell)
		}
		if strings.ContainsFunc(c, func(r rune) bool { return !unicode.IsPrint(r) }) {
			return fmt.Sprintf("column %d holds a character that cannot be printed (%s)", i+1, Quoted(c))
		}
		cells[i] = strings.TrimSpace(c)
	}
	return ""
}
