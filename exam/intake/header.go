package intake

import (
	"fmt"
	"regexp"
	"strings"
)

// headWithin is how many rows may stand above the names of the columns.
const headWithin = 60

// headOf finds the row that names the columns: the one that holds most of the names that are known, or -1 where none
// holds any.
func (s *sheet) headOf(known func(name string) bool) int {
	best, most := -1, 0
	for i := range min(len(s.rows), headWithin) {
		n := 0
		for _, name := range distinct(s.rows[i].cells, nil) {
			if name != "" && known(name) {
				n++
			}
		}
		if n > most {
			best, most = i, n
		}
	}
	return best
}

// takeHead names the columns by a row, and makes every row below as wide as that. Rows that are no exams are left out
// and said: the names once more, as on printed pages, a heading in a single cell, sums. A row of CSV with too few or too
// many fields is broken.
func (s *sheet) takeHead(row int, e *FileError) {
	if row > 0 {
		var above []string
		for _, r := range s.rows[:row] {
			above = append(above, strings.Join(strings.Fields(strings.Join(r.cells, " ")), " "))
		}
		s.notices = append(s.notices, fmt.Sprintf("%s: the columns are named in line %d; what stands above is left out: %s", e.File, s.rows[row].line, cutTo(strings.Join(above, "; "), 120)))
	}
	names := s.rows[row].cells
	s.nameBy(row)
	for len(s.head) < s.widest() { // columns to the right of the last name
		s.head = append(s.head, "")
	}
	s.head = distinct(s.head, s.used)
	left := map[string][]sheetRow{}
	kept := s.rows[:0]
	for _, r := range s.rows {
		switch {
		case sameCells(r.cells, names):
			left["the names of the columns once more"] = append(left["the names of the columns once more"], r)
			continue
		case len(s.head) > 2 && filled(r.cells) == 1:
			left["a single cell"] = append(left["a single cell"], r)
			continue
		case isSum(r.cells):
			left["a sum"] = append(left["a sum"], r)
			continue
		}
		if !s.packed && len(r.cells) != len(names) && filled(r.cells[min(len(r.cells), len(names)):]) > 0 || !s.packed && len(r.cells) < len(names) {
			r.wrong = fmt.Sprintf("%d fields, but there are %d columns (separated by %q)", len(r.cells), len(names), s.comma)
			s.broken = append(s.broken, r)
			continue
		}
		for i, c := range r.cells {
			r.cells[i] = unguarded(c)
		}
		r.cells = fitted(r.cells, len(s.head))
		kept = append(kept, r)
	}
	s.rows = kept
	for _, what := range []string{"the names of the columns once more", "a single cell", "a sum"} {
		if rows := left[what]; len(rows) > 0 {
			s.notices = append(s.notices, fmt.Sprintf("%s: left out as no exam, %s: %s", e.File, what, linesOf(rows)))
		}
	}
}

// widest is how many cells the widest row of a spreadsheet file has.
func (s *sheet) widest() int {
	n := len(s.head)
	if s.packed {
		for _, r := range s.rows {
			n = max(n, len(r.cells))
		}
	}
	return n
}

func linesOf(rows []sheetRow) string {
	var words []string
	for i, r := range rows {
		if i == 5 {
			words = append(words, fmt.Sprintf("and %d more", len(rows)-i))
			break
		}
		words = append(words, fmt.Sprintf("line %d (%s)", r.line, cutTo(strings.TrimSpace(strings.Join(r.cells, " ")), 40)))
	}
	return strings.Join(words, ", ")
}

func cutTo(text string, most int) string {
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + " …"
	}
	return text
}

// distinct gives every column that is used a name of its own: "Temp" and "Temp (2)", "column E" for one without.
func distinct(names []string, used func(int) bool) []string {
	out := make([]string, len(names))
	seen := map[string]bool{}
	for i, name := range names {
		if name == "" && used != nil && used(i) {
			name = "column " + letter(i)
		}
		out[i] = name
		if name == "" {
			continue
		}
		for n := 2; seen[strings.ToLower(out[i])]; n++ {
			out[i] = fmt.Sprintf("%s (%d)", cutName(name, 70), n)
		}
		seen[strings.ToLower(out[i])] = true
	}
	return out
}

func filled(cells []string) int {
	n := 0
	for _, c := range cells {
		if c != "" {
			n++
		}
	}
	return n
}

func sameCells(a, b []string) bool {
	n := 0
	for i := range max(len(a), len(b)) {
		x, y := "", ""
		if i < len(a) {
			x = a[i]
		}
		if i < len(b) {
			y = b[i]
		}
		if !strings.EqualFold(x, y) {
			return false
		}
		if x != "" {
			n++
		}
	}
	return n > 1
}

var sumWord = regexp.MustCompile(`(?i)^(grand total|totals?|sums?|averages?|avg\.?|mean|median|count|min|max)\b:?$`)

// isSum says that the first word of a row is that of a sum beneath a table.
func isSum(cells []string) bool {
	for _, c := range cells {
		if c != "" {
			return sumWord.MatchString(c)
		}
	}
	return false
}
