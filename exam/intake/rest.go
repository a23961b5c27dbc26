package intake

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
)

// WriteRest writes the rows that did not come in as CSV in UTF-8, with the columns of their sheet and, last, what is wrong
// with each. Put right, it is imported with the map of the sheet. A cell that a spreadsheet would take for a
// formula gets an apostrophe before it, which is taken off again when it is read.
func (r *Result) WriteRest(w io.Writer, bad []BadRow) error {
	if _, err := io.WriteString(w, "\ufeff"); err != nil { // by this mark spreadsheets know UTF-8
		return fmt.Errorf("write the rows that did not come in: %w", err)
	}
	out := csv.NewWriter(w)
	var columns []int
	for i, name := range r.Head {
		if name != "" && name != WhyColumn {
			columns = append(columns, i)
		}
	}
	row := func(cells []string, why string) error {
		line := make([]string, 0, len(columns)+1)
		for _, i := range columns {
			text := ""
			if i < len(cells) {
				text = cells[i]
			}
			line = append(line, noFormula(text))
		}
		return out.Write(append(line, noFormula(why)))
	}
	err := row(r.Head, WhyColumn)
	for _, b := range bad {
		if err == nil {
			err = row(b.Cells, b.Why())
		}
	}
	if out.Flush(); err == nil {
		err = out.Error()
	}
	if err != nil {
		return fmt.Errorf("write the rows that did not come in: %w", err)
	}
	return nil
}

const formulaSigns = "=+-@\uFF1D\uFF0B\uFF0D\uFF20"

func noFormula(text string) string {
	if text != "" && strings.ContainsRune(formulaSigns, []rune(text)[0]) {
		return "'" + text
	}
	return text
}

// unguarded takes off the apostrophe before a cell that a spreadsheet would take for a formula.
func unguarded(text string) string {
	if rest, ok := strings.CutPrefix(text, "'"); ok && rest != "" && strings.ContainsRune(formulaSigns, []rune(rest)[0]) {
		return rest
	}
	return text
}

// Refuse says of exams why they do not come in, and gives the rows of the sheet that they are made of.
func (r *Result) Refuse(exams []int, column, why string) []BadRow {
	var out []BadRow
	for _, i := range exams {
		x := r.Exams[i]
		out = append(out, r.bad(r.a.s.rows[x.row], []Problem{{Line: x.Line, Column: column, What: why}})...)
	}
	return out
}
