package intake

import (
	"strings"
)

// strict refuses rows that have not as many fields as there are columns.
func (s *sheet) strict(e *FileError) {
	kept := s.rows[:0]
	for _, r := range s.rows {
		if s.packed {
			r.cells = fitted(r.cells, len(s.head))
		}
		if len(r.cells) != len(s.head) {
			e.Add(r.line, "%d fields, but the first line names %d columns (separated by %q)", len(r.cells), len(s.head), s.comma)
			continue
		}
		kept = append(kept, r)
	}
	s.rows = kept
}

// fitted is a row with as many cells as there are columns; only empty ones are cut off.
func fitted(cells []string, columns int) []string {
	for len(cells) > columns && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	for len(cells) < columns {
		cells = append(cells, "")
	}
	return cells
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
