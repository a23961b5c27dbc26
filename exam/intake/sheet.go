package intake

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"loosebox/exam/intake/charset"
	"loosebox/exam/intake/workbook"
	"loosebox/exam/notation"
)

// Bounds of a table. They keep a hostile or broken file from filling the memory.
const (
	MaxBytes   = 10 << 20
	MaxRows    = workbook.MaxRows
	maxColumns = workbook.MaxColumns
	maxCells   = workbook.MaxCells
	maxCell    = notation.MaxNote
)

// How says what the bytes of a table do not say themselves; its zero value finds it out.
type How struct {
	Charset charset.Name // of a text file
	Sheet   string       // of a file with several
	// Loose takes a table as people have it: titles above the names of the columns, lines that cannot be split. They
	// are kept apart and do not stop the file.
	Loose bool
}

// sheet is a table as it stands in the file, in clean text. Its rows are all rows
// that hold something until head is called, which takes the names from one of them.
type sheet struct {
	head   []string
	rows   []sheetRow
	digest string // first half of the SHA-256 of the file's bytes, in hex
	// notices are what was changed in cleaning, for the person.
	notices []string
	packed  bool   // of a spreadsheet file, whose rows end where they hold nothing more
	comma   rune   // of CSV
	name    string // of the sheet in its file
	letters charset.Name
	zero    int // year from which a spreadsheet file counts its days; 0 of a text
	cells   int
	broken  []sheetRow // lines that could not be split as they stand
}

// sheetRow is one row; a cell that is missing is empty.
type sheetRow struct {
	line  int
	cells []string
	lines map[int]int    // of a visit made of several rows: the line of a cell
	typed map[int]string // of a visit made of several rows: a cell before a map translated it
	parts []int          // of a visit made of several rows: the rows of the file
	wrong string         // of a line that could not be split
	// faults are what is wrong with findings of a visit made of several rows, remarks what no step takes of them.
	faults  []Problem
	remarks []string
}

// readSheet reads a spreadsheet file, CSV (RFC 4180, also separated by semicolons or tabs) or, where
// the first sign is [ or {, JSON. Everything that is wrong is added to e. The first row names the columns
// unless the table is read loosely; then every row is in rows, and name says which of them names them.
func readSheet(r io.Reader, e *FileError, how How) (*sheet, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", e.File, err)
	}
	sum := sha256.Sum256(data)
	s := &sheet{digest: hex.EncodeToString(sum[:16])}
	if len(data) > MaxBytes {
		e.Add(0, "larger than %d MB; split it", MaxBytes>>20)
		return s, nil
	}
	if workbook.Is(data) {
		s.readWorkbook(data, e, how)
	} else if data = s.plain(e, data, how); len(e.Problems) == 0 {
		if first := bytes.TrimLeft(data, " \t\r\n"); len(first) > 0 && (first[0] == '[' || first[0] == '{') {
			s.readJSON(data, e)
			s.tidy(e)
			return s, nil
		}
		s.readCSV(data, e, how.Loose)
	}
	if !how.Loose && len(e.Problems) == 0 {
		s.nameBy(0)
		s.strict(e)
		s.tidy(e)
	}
	return s, nil
}

func (s *sheet) readWorkbook(data []byte, e *FileError, how How) {
	book, err := workbook.Read(data, how.Sheet)
	if err != nil {
		e.Add(0, "%v", err)
		return
	}
	s.packed, s.name, s.zero = true, book.Name, 1900
	if book.From1904 {
		s.zero = 1904
	}
	for _, n := range book.Notices {
		s.notices = append(s.notices, e.File+": "+n)
	}
	for _, r := range book.Rows {
		s.add(e, r.Line, r.Cells)
	}
}

// plain makes UTF-8 text of the file's bytes, or says why it cannot.
func (s *sheet) plain(e *FileError, data []byte, how How) []byte {
	text, err := charset.Decode(data, how.Charset)
	switch {
	case err != nil:
		e.Add(0, "%v; charset: names another one in the map, or --charset", err)
		return nil
	case len(text.Doubt) > 0:
		e.Add(text.Doubt[0].Line, "%s", doubt(text.Doubt))
		return nil
	case text.Said != "":
		s.notices = append(s.notices, e.File+": "+text.Said)
	}
	s.letters = text.As
	data = text.Bytes
	if i := bytes.IndexByte(data, 0); i >= 0 {
		e.AddAt(lineAt(data, i), "", "holds a zero byte; this is no text file")
		return nil
	}
	if !bytes.ContainsRune(data, '\n') {
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n")) // lines of old Macs
	}
	return data
}

// doubt puts the readings of a word side by side.
func doubt(readings []charset.Candidate) string {
	var words, names []string
	for _, r := range readings {
		words = append(words, fmt.Sprintf("%s reads %s", r.As, notation.CleanLine(r.Word, 60)))
		names = append(names, string(r.As))
	}
	return fmt.Sprintf("the letters can be read in %d ways: %s. Say which is right: file: {charset: %s} in the map, or --charset %s",
		len(words), strings.Join(words, ", "), names[0], strings.Join(names, " or --charset "))
}

func lineAt(data []byte, offset int) int { return 1 + bytes.Count(data[:offset], []byte("\n")) }

// add keeps a row that holds something, in clean text, within the limits; false where they are passed.
func (s *sheet) add(e *FileError, line int, fields []string) bool {
	if blank(fields) {
		return true
	}
	s.cells += len(fields)
	switch {
	case len(fields) > maxColumns:
		e.Add(line, "%d columns; an exam has not so many", len(fields))
		return false
	case len(s.rows) > MaxRows || s.cells > maxCells:
		e.Add(line, "more than %d rows, or too many cells; split the file", MaxRows)
		return false
	}
	for i, f := range fields {
		if len(f) <= maxCell {
			continue
		}
		name := "column " + letter(i)
		if len(s.rows) > 0 && i < len(s.rows[0].cells) {
			name = cmp.Or(s.rows[0].cells[i], name)
		}
		s.cut(e, line, name, f)
	}
	s.rows = append(s.rows, sheetRow{line: line, cells: cleaned(fields, maxCell)})
	return true
}

// cut says so where a cell is longer than the record takes.
func (s *sheet) cut(e *FileError, line int, column, cell string) {
	if len(cell) > maxCell && utf8.RuneCountInString(cell) > maxCell {
		s.notices = append(s.notices, fmt.Sprintf("%s:%d: %s: longer than %d characters; the rest was cut off", e.File, line, column, maxCell))
	}
}

// letter is how a spreadsheet names a column: A, B, … Z, AA.
func letter(column int) string {
	text := ""
	for n := column + 1; n > 0; n = (n - 1) / 26 {
		text = string(rune('A'+(n-1)%26)) + text
	}
	return text
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

// nameBy takes the names of the columns from a row; what stands above it is left out.
func (s *sheet) nameBy(row int) {
	if row >= len(s.rows) {
		return
	}
	s.head = cleaned(s.rows[row].cells, 80)
	s.rows = s.rows[row+1:]
}

func (s *sheet) used(column int) bool {
	for _, r := range s.rows {
		if column < len(r.cells) && r.cells[column] != "" {
			return true
		}
	}
	return false
}
