package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/export"
	"loosebox/exam/notation"
)

// WriteCSV writes one finding a line (RFC 4180 with a header), for a spreadsheet:
// what was found, in numbers where it is one, how it stands and against what, what
// stood there before a correction, and whether the visit was struck. The notes of
// the visit follow, with "note" as their name. Numbers are written with a point;
// cells of text are defused.
func WriteCSV(w io.Writer, p Page) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	rows := [][]string{{
		"visit", "horse", "opened_at", "step", "name", "site", "value", "amount", "unit", "level", "low", "high", "evidence", "source", "not_done", "note", "at", "by", "history", "visit_standing",
	}}
	for _, step := range p.Steps.All() {
		for _, f := range p.Visit.Findings {
			if f.Step == step.ID {
				rows = append(rows, p.csvRow(step, f))
			}
		}
	}
	for _, n := range p.Visit.Notes {
		if n.Silent() {
			continue
		}
		rows = append(rows, p.csvNote(n))
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("the visit cannot be written as CSV: %w", err)
	}
	return nil
}

func (p Page) csvRow(step exam.Step, f exam.Finding) []string {
	row := append(p.csvVisit(), string(f.Step), step.Name, string(f.Site))
	value, amount, unit := "", "", ""
	if f.Done() {
		value = f.Value.Show(step)
		if n := f.Value.Number; n != nil {
			amount, unit = strconv.FormatFloat(n.Value, 'f', -1, 64), string(n.Unit)
		}
	}
	row = append(row, export.Defuse(notation.CleanNote(value)), amount, unit)
	row = append(row, p.standing(f)...)
	return append(row, export.Defuse(notation.CleanLine(string(f.NotDone), 0)), export.Defuse(notation.CleanNote(f.Note)), f.At.Format(time.RFC3339), export.Defuse(notation.CleanLine(f.By, 0)),
		cells(inFiles().history(f, step)), cells(inFiles().standing(p.Visit)))
}

func (p Page) csvNote(n exam.VisitNote) []string {
	row := append(p.csvVisit(), string(n.Step), "note", string(n.Site), export.Defuse(notation.CleanNote(n.Text)))
	row = append(row, make([]string, 9)...) // amount to note
	return append(row, n.At.Format(time.RFC3339), export.Defuse(notation.CleanLine(n.By, 0)), cells(inFiles().noteHistory(n)), cells(inFiles().standing(p.Visit)))
}

// csvVisit is the beginning of every row.
func (p Page) csvVisit() []string {
	v := p.Visit
	return []string{string(v.ID), export.Defuse(notation.CleanLine(v.Horse.Name, 0)), v.OpenedAt.Format(time.RFC3339)}
}

// cells is several lines in one cell of text.
func cells(lines []string) string {
	return export.Defuse(notation.CleanNote(strings.Join(lines, "; ")))
}

// standing is level, limits, evidence and source of a finding that stands out.
func (p Page) standing(f exam.Finding) []string {
	out := []string{"", "", "", "", ""}
	for _, r := range p.Verdict.Remarks {
		if r.Step != f.Step || r.Site != f.Site || r.Combination {
			continue
		}
		out[0], out[3], out[4] = r.Level.Key(), string(r.Evidence), export.Defuse(notation.CleanNote(r.Source))
		for i, edge := range []*float64{r.Low, r.High} {
			if edge != nil {
				out[1+i] = strconv.FormatFloat(*edge, 'f', -1, 64)
			}
		}
		return out
	}
	return out
}
