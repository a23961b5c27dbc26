package progress

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"time"

	"loosebox/exam/export"
	"loosebox/exam/notation"
)

// column is one column of the CSV form; text columns hold what people typed.
type column struct {
	name string
	text bool
	of   func(person string, p Rehearsal) string
}

func columns() []column {
	whole := func(n int) string { return strconv.Itoa(n) }
	return []column{
		{"person", true, func(person string, _ Rehearsal) string { return person }},
		{"at", false, func(_ string, p Rehearsal) string { return p.At.Format(time.RFC3339) }},
		{"case", true, func(_ string, p Rehearsal) string { return p.Case }},
		{"title", true, func(_ string, p Rehearsal) string { return p.Title }},
		{"seed", false, func(_ string, p Rehearsal) string { return strconv.FormatUint(p.Seed, 10) }},
		{"routine", true, func(_ string, p Rehearsal) string { return p.Routine }},
		{"finished", false, func(_ string, p Rehearsal) string { return strconv.FormatBool(p.Finished) }},
		{"total_s", false, func(_ string, p Rehearsal) string { return number(&p.TotalS, 1, 1) }},
		{"stops", false, func(_ string, p Rehearsal) string { return whole(p.Stops) }},
		{"answered", false, func(_ string, p Rehearsal) string { return whole(p.Answered) }},
		{"out_of_order", false, func(_ string, p Rehearsal) string { return whole(p.OutOfOrder) }},
		{"edit_distance", false, func(_ string, p Rehearsal) string { return whole(p.Edits) }},
		{"kendall_tau", false, func(_ string, p Rehearsal) string { return number(p.Tau, 1, 3) }},
		{"steps_missed", false, func(_ string, p Rehearsal) string { return whole(p.Missed) }},
		{"sides_missed", false, func(_ string, p Rehearsal) string { return whole(p.Sides) }},
		{"findings", false, func(_ string, p Rehearsal) string { return whole(p.Findings) }},
		{"right", false, func(_ string, p Rehearsal) string { return whole(p.Right) }},
		{"in_part", false, func(_ string, p Rehearsal) string { return whole(p.InPart) }},
		{"wrong", false, func(_ string, p Rehearsal) string { return whole(p.Wrong) }},
		{"not_examined", false, func(_ string, p Rehearsal) string { return whole(p.NotExamined) }},
		{"score_percent", false, func(_ string, p Rehearsal) string { return number(&p.Score, 1, 1) }},
		{"heart_error_per_min", false, func(_ string, p Rehearsal) string { return number(p.HeartErrorPerMin, 1, 2) }},
		{"breath_error_per_min", false, func(_ string, p Rehearsal) string { return number(p.BreathErrorPerMin, 1, 2) }},
		{"tap_bias_ms", false, func(_ string, p Rehearsal) string { return number(p.BiasS, 1000, 1) }},
		{"tap_scatter_ms", false, func(_ string, p Rehearsal) string { return number(p.ScatterS, 1000, 1) }},
		{"remarks_missed", false, func(_ string, p Rehearsal) string { return whole(p.Unraised) }},
		{"safety_slips", false, func(_ string, p Rehearsal) string { return whole(p.Safety) }},
		{"handed_off", false, func(_ string, p Rehearsal) string { return answered(p.HandedOff) }},
		{"visit", false, func(_ string, p Rehearsal) string { return string(p.Visit) }},
	}
}

func number(v *float64, factor float64, decimals int) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v*factor, 'f', decimals, 64)
}

func answered(yes *bool) string {
	if yes == nil {
		return ""
	}
	return strconv.FormatBool(*yes)
}

// WriteCSV writes a line for every rehearsal, by person and the newest first, in the form of RFC 4180: a head line, lines
// that end with CR LF, an empty cell for what there is not. A text that a spreadsheet would take for a formula begins with
// an apostrophe. The error is the writer's.
func WriteCSV(w io.Writer, people []Person) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true
	cols := columns()
	row := make([]string, len(cols))
	for i, c := range cols {
		row[i] = c.name
	}
	rows := [][]string{row}
	for _, person := range people {
		for _, p := range person.Points {
			row := make([]string, len(cols))
			for i, c := range cols {
				row[i] = c.of(person.Name, p)
				if c.text {
					row[i] = plain(row[i])
				}
			}
			rows = append(rows, row)
		}
	}
	if err := out.WriteAll(rows); err != nil {
		return fmt.Errorf("write the rehearsals: %w", err)
	}
	return nil
}

// plain makes a text one line that no spreadsheet reckons with. Signs: OWASP, "CSV Injection".
func plain(text string) string {
	return export.Defuse(notation.CleanLine(text, 0))
}
