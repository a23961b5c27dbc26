package intake

import (
	"fmt"
	"io"
	"strings"
	"time"

	"loosebox/exam"
)

// Result is what a sheet comes to by its map: the exams that can be taken, and the rows that cannot, each with what is wrong.
// The lines of an exam are made when they are asked for, so that a long sheet does not fill the memory.
type Result struct {
	Head    []string // the names of the columns
	Exams   []Exam   // in the order of the sheet
	Bad     []BadRow // in the order of the sheet
	Twice   []BadRow // rows that say the same as an earlier one in every column; they count once
	Notices []string
	// Spellings are names that may be one horse in two spellings, which the map does not answer. The
	// rows of the rarer one are bad.
	Spellings []Spelling

	a   *applied
	raw []sheetRow // as the sheet has them
}

// Exam is one visit of a sheet, before its lines are made.
type Exam struct {
	Line  int // in the sheet, counted from 1
	Horse exam.Horse
	At    time.Time
	row   int
}

// BadRow is a row that did not come in.
type BadRow struct {
	Line     int
	Cells    []string // as wide as the names of the columns
	Problems []Problem
}

// Why is what is wrong with the row, on one line.
func (b BadRow) Why() string {
	var words []string
	for _, p := range b.Problems {
		text := p.What
		if p.Column != "" {
			text = p.Column + ": " + text
		}
		words = append(words, text)
	}
	return strings.Join(words, "; ")
}

// Read reads a spreadsheet. An empty field that is mapped to a step becomes a step not done, with the reason
// exam.ReasonNotRecorded. What concerns all rows, such as a column that the map does not have, or dates that can be
// read in two ways, is a *FileError; what is wrong with one row keeps only that row out.
func (m *Map) Read(table io.Reader, name string) (*Result, error) {
	e := newFileError(name)
	how := m.How
	how.Loose = true
	s, err := readSheet(table, e, how)
	if err != nil {
		return nil, err
	}
	if len(e.Problems) == 0 && s.head == nil {
		s.takeNames(e, func(name string) bool { _, ok := m.find(name); return ok })
	}
	if len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	a := &applied{m: m, e: e, s: s, origin: ImportedFrom{File: e.File, Digest: s.digest, At: m.Latest, By: m.Taker}}
	if a.columns(); len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	r := &Result{Head: s.head, a: a, raw: s.rows}
	a.fillDown()
	if a.oneFinding() {
		a.pivot()
	}
	if a.dates(); len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	for _, bad := range s.broken {
		r.Bad = append(r.Bad, BadRow{bad.line, fitted(bad.cells, len(r.Head)), []Problem{{Line: bad.line, What: bad.wrong}}})
	}
	r.rows()
	r.Notices = append(r.Notices, a.s.notices...)
	r.order()
	if len(r.Exams)+len(r.Bad) == 0 {
		e.Add(0, "holds no exam below the names of its columns")
		return nil, e.OrNil()
	}
	return r, nil
}

// takeNames finds the row that names the columns, or takes the first.
func (s *sheet) takeNames(e *FileError, known func(string) bool) {
	if len(s.rows) == 0 {
		e.Add(0, "empty; one line names the columns, and every line below it is one exam")
		return
	}
	s.takeHead(max(0, s.headOf(known)), e)
	if len(s.rows)+len(s.broken) == 0 {
		e.Add(0, "holds no exam below the names of its columns")
	}
}

// rows makes an exam of every row, or keeps it apart.
func (r *Result) rows() {
	a, file := r.a, r.a.e.File
	seen := map[string]int{}
	g := &group{horses: map[string]Exam{}}
	for i, row := range a.s.rows {
		text := strings.Join(row.cells, "\x00")
		a.e = newFileError(file)
		if line, ok := seen[text]; ok {
			a.e.Add(row.line, "says the same as line %d in every column", line)
			r.Twice = append(r.Twice, r.bad(row, a.e.Problems)...)
			continue
		}
		seen[text] = row.line
		if row.wrong != "" {
			a.e.Add(row.line, "%s", row.wrong)
		}
		a.e.Problems = append(a.e.Problems, row.faults...)
		v := a.row(row)
		x := Exam{Line: row.line, Horse: v.Horse, At: v.At(), row: i}
		if len(a.e.Problems) == 0 {
			a.agree(g, x, row)
		}
		if len(a.e.Problems) > 0 {
			r.Bad = append(r.Bad, r.bad(row, a.e.Problems)...)
			continue
		}
		r.Exams = append(r.Exams, x)
		r.Notices = append(r.Notices, v.Notices...)
	}
	a.e = newFileError(file)
	r.Doubt(Spellings(r.Names(), a.m.Answered))
	if len(r.Twice) > 0 {
		r.Notices = append(r.Notices, fmt.Sprintf("%s: %d rows say the same as an earlier one and count once: the first is line %d", file, len(r.Twice), r.Twice[0].Line))
	}
}

// bad gives the rows of the file that a row was made of; what is wrong stands on the line that it names, or on the first.
func (r *Result) bad(row sheetRow, wrong []Problem) []BadRow {
	if row.parts == nil {
		return []BadRow{{row.line, row.cells, wrong}}
	}
	var out []BadRow
	for n, i := range row.parts {
		one := BadRow{Line: r.raw[i].line, Cells: r.raw[i].cells}
		for _, p := range wrong {
			if p.Line == one.Line || n == 0 && !hasLine(row.parts, r.raw, p.Line) {
				one.Problems = append(one.Problems, p)
			}
		}
		if one.Problems == nil {
			one.Problems = []Problem{{Line: one.Line, What: "another finding of this visit did not come in"}}
		}
		out = append(out, one)
	}
	return out
}

func hasLine(parts []int, raw []sheetRow, line int) bool {
	for _, i := range parts {
		if raw[i].line == line {
			return true
		}
	}
	return false
}

// Visit makes the lines of an exam.
func (r *Result) Visit(i int) Visit {
	return r.a.row(r.a.s.rows[r.Exams[i].row])
}

// Strict is a *FileError where any row did not come in, or is there twice.
func (r *Result) Strict() error {
	e := newFileError(r.a.e.File)
	for _, list := range [][]BadRow{r.Bad, r.Twice} {
		for _, b := range list {
			for _, p := range b.Problems {
				e.AddAt(p.Line, p.Column, "%s", p.What)
			}
		}
	}
	return e.OrNil()
}
