package intake

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"loosebox/exam/notation"
)

// Bounds of a table. They keep a hostile or broken file from filling the memory.
const (
	MaxBytes   = 10 << 20
	MaxRows    = 10_000
	maxColumns = 400
	maxCell    = notation.MaxNote
)

// sheet is a table as it stands in the file, in clean text.
type sheet struct {
	head   []string
	rows   []sheetRow
	digest string // first half of the SHA-256 of the file's bytes, in hex
	// notices are what was changed in cleaning, for the person.
	notices []string
}

// sheetRow is one row; a cell that is missing is empty.
type sheetRow struct {
	line  int
	cells []string
	lines map[int]int // of a visit made of several rows: the line of a cell
}

// readSheet reads CSV (RFC 4180, also separated by semicolons or tabs) or, where
// the first sign is [ or {, JSON. Everything that is wrong is added to e.
func readSheet(r io.Reader, e *FileError) (*sheet, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", e.File, err)
	}
	sum := sha256.Sum256(data)
	s := &sheet{digest: hex.EncodeToString(sum[:16])}
	data = plain(e, s, data)
	if len(e.Problems) > 0 {
		return s, nil
	}
	if first := bytes.TrimLeft(data, " \t\r\n"); len(first) > 0 && (first[0] == '[' || first[0] == '{') {
		s.readJSON(data, e)
	} else {
		s.readCSV(data, e)
	}
	s.tidy(e)
	return s, nil
}

// plain makes UTF-8 text of the file's bytes, or says why it cannot.
func plain(e *FileError, s *sheet, data []byte) []byte {
	switch {
	case len(data) > MaxBytes:
		e.Add(0, "larger than %d MB; split it", MaxBytes>>20)
		return nil
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		e.Add(1, "UTF-16 text; save it as CSV in UTF-8")
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if i := bytes.IndexByte(data, 0); i >= 0 {
		e.AddAt(lineAt(data, i), "", "holds a zero byte; this is no text file")
		return nil
	}
	if i := firstInvalid(data); i >= 0 {
		s.notices = append(s.notices, fmt.Sprintf("%s:%d: not UTF-8; letters that cannot be read are kept as ?", e.File, lineAt(data, i)))
		data = bytes.ToValidUTF8(data, []byte("?"))
	}
	if !bytes.ContainsRune(data, '\n') {
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n")) // lines of old Macs
	}
	return data
}

func lineAt(data []byte, offset int) int { return 1 + bytes.Count(data[:offset], []byte("\n")) }

func firstInvalid(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

func (s *sheet) readCSV(data []byte, e *FileError) {
	in := csv.NewReader(bytes.NewReader(data))
	in.Comma = separator(data)
	in.FieldsPerRecord = -1
	in.ReuseRecord = true
	for {
		fields, err := in.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		if err != nil {
			var at *csv.ParseError
			if errors.As(err, &at) {
				e.Add(at.StartLine, "the quotes are not right (%v); the lines below it were not read", at.Err)
			} else {
				e.Add(0, "%v", err)
			}
			return
		}
		line, _ := in.FieldPos(0)
		switch {
		case s.head == nil:
			if len(fields) > maxColumns {
				e.Add(line, "%d columns; an exam has not so many", len(fields))
				return
			}
			s.head = cleaned(fields, 80)
		case len(s.rows) == MaxRows:
			e.Add(line, "more than %d rows; split the file", MaxRows)
			return
		case blank(fields):
		case len(fields) != len(s.head):
			e.Add(line, "%d fields, but the first line names %d columns (separated by %q)", len(fields), len(s.head), in.Comma)
		default:
			for i, f := range fields {
				s.cut(e, line, s.head[i], f)
			}
			s.rows = append(s.rows, sheetRow{line: line, cells: cleaned(fields, maxCell)})
		}
	}
}

// cut says so where a cell is longer than the record takes.
func (s *sheet) cut(e *FileError, line int, column, cell string) {
	if len(cell) > maxCell && utf8.RuneCountInString(cell) > maxCell {
		s.notices = append(s.notices, fmt.Sprintf("%s:%d: %s: longer than %d characters; the rest was cut off", e.File, line, column, maxCell))
	}
}

// separator is the sign that separates most fields of the first line: a comma,
// a semicolon or a tab. What stands in quotes does not count.
func separator(data []byte) rune {
	count := map[rune]int{}
	quoted := false
	for _, c := range string(data[:min(len(data), 64<<10)]) {
		switch {
		case c == '"':
			quoted = !quoted
		case c == '\n' && !quoted:
			return most(count)
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

func cleaned(fields []string, limit int) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = notation.CleanLine(f, limit)
	}
	return out
}

func blank(fields []string) bool {
	for _, f := range fields {
		if strings.TrimSpace(f) != "" {
			return false
		}
	}
	return true
}

// tidy refuses a table without columns or rows, a column that is there twice and
// one without a name, unless it is empty throughout, as spreadsheets leave them.
func (s *sheet) tidy(e *FileError) {
	if len(e.Problems) > 0 {
		return
	}
	if len(s.head) == 0 {
		e.Add(0, "empty; the first line names the columns")
		return
	}
	if len(s.rows) == 0 {
		e.Add(0, "holds no exam; the first line names the columns, every line below it is one exam")
	}
	seen := map[string]bool{}
	for i, name := range s.head {
		key := strings.ToLower(name)
		switch {
		case name == "" && s.used(i):
			e.Add(1, "column %d has no name", i+1)
		case name != "" && seen[key]:
			e.AddAt(1, name, "this column is there twice")
		}
		seen[key] = true
	}
}

func (s *sheet) used(column int) bool {
	for _, r := range s.rows {
		if r.cells[column] != "" {
			return true
		}
	}
	return false
}
