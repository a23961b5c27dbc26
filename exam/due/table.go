package due

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
	"loosebox/ranges/csvfile"
)

//go:embed tables/*.csv
var tables embed.FS

// Table is a schedule. It never changes after it is made.
type Table struct {
	rows     []ScheduleRow
	diseases []string
	version  string
	own      int
}

// Version says which guideline it is and how many rows are the practice's own.
func (t *Table) Version() string {
	if t.own > 0 {
		return fmt.Sprintf("%s; %d rows of the practice's own", t.version, t.own)
	}
	return t.version
}

// Rows lists the rows in the order of the table.
func (t *Table) Rows() []ScheduleRow { return append([]ScheduleRow(nil), t.rows...) }

// Diseases lists the keys in the order of the table.
func (t *Table) Diseases() []string { return append([]string(nil), t.diseases...) }

// Name is a disease for a person.
func (t *Table) Name(disease string) string {
	return Names([]string{disease})
}

// BuiltIn reads the embedded schedule. An error means that the program was built
// from damaged tables.
func BuiltIn() (*Table, error) {
	t := &Table{}
	names, err := listOf("tables/diseases.csv", "disease", "name")
	if err != nil {
		return nil, err
	}
	for _, p := range names {
		t.diseases = append(t.diseases, p.Cells[0])
	}
	sources := map[string]string{}
	tiers := map[string]exam.Evidence{}
	list, err := listOf("tables/sources.csv", "key", "tier", "text")
	if err != nil {
		return nil, err
	}
	for _, p := range list {
		tiers[p.Cells[0]], sources[p.Cells[0]] = exam.Evidence(p.Cells[1]), p.Cells[2]
	}
	data, err := tables.ReadFile("tables/schedule.csv")
	if err != nil {
		return nil, fmt.Errorf("open the built-in schedule: %w", err)
	}
	first, _, _ := strings.Cut(string(data), "\n")
	t.version = strings.TrimPrefix(first, "# version: ")
	bad := newError("schedule.csv")
	recs, err := csvfile.Read(bytes.NewReader(data), append(columns(), "source"), bad)
	if err != nil {
		return nil, err
	}
	for _, rec := range recs {
		row, ok := parseRow(rec, bad)
		if !ok {
			continue
		}
		row.Keys = rec.Cells[len(columns())]
		row.Evidence = ranges.Published
		var cited []string
		for _, key := range strings.Split(row.Keys, "+") {
			if rank := slices.Index(ranges.Tiers(), tiers[key]); rank > slices.Index(ranges.Tiers(), row.Evidence) {
				row.Evidence = tiers[key] // the weakest of its sources
			}
			if sources[key] == "" {
				bad.Add(rec.Number, "the source %q is not in the list", key)
			}
			if key != "M" || row.Keys == "M" {
				cited = append(cited, sources[key])
			}
		}
		row.Source = strings.Join(cited, "; ")
		if row.Evidence == ranges.FromMemory && row.Keys != "M" {
			row.Source += "; the rest was not read"
		}
		if _, known := builtInNames()[row.Disease]; !known {
			bad.Add(rec.Number, "the disease %q has no name", row.Disease)
		}
		t.rows = append(t.rows, row)
	}
	return t, bad.OrNil()
}

// FileError says why a schedule was refused, line by line. Nothing of it was taken.
type FileError = csvfile.FileError

func newError(name string) *FileError {
	return csvfile.New(notation.CleanLine(name, 60), "the schedule %s is refused; the schedule in use stays. Correct it and try again:")
}

// With lays a practice's own file over the table; t itself stays as it is. A file
// with any bad line is refused as a whole with a *FileError.
func (t *Table) With(r io.Reader, name string) (*Table, error) {
	bad := newError(name)
	recs, err := csvfile.Read(r, columns(), bad)
	if err != nil {
		return nil, err
	}
	out := &Table{rows: t.Rows(), diseases: t.Diseases(), version: t.version, own: t.own}
	seen := map[[2]string]int{}
	for _, rec := range recs {
		row, ok := parseRow(rec, bad)
		if !ok {
			continue
		}
		key := [2]string{row.Disease, row.Group}
		if at, twice := seen[key]; twice {
			bad.Add(rec.Number, "%s for %s stands on line %d already", row.Disease, row.Group, at)
			continue
		}
		seen[key] = rec.Number
		row.Evidence, row.Source = ranges.PracticeOwn, "the practice's own schedule, "+bad.File
		out.put(row)
	}
	if err := bad.OrNil(); err != nil {
		return nil, err
	}
	return out, nil
}

// put replaces the row of a disease and group, or adds one.
func (t *Table) put(row ScheduleRow) {
	t.own++
	known := false
	for i, old := range t.rows {
		known = known || old.Disease == row.Disease
		if old.Disease == row.Disease && old.Group == row.Group {
			t.rows[i] = row
			return
		}
	}
	if !known {
		t.diseases = append(t.diseases, row.Disease)
	}
	t.rows = append(t.rows, row)
}

// listOf reads a small table of the program.
func listOf(name string, columns ...string) ([]csvfile.Line, error) {
	data, err := tables.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("open the built-in schedule: %w", err)
	}
	bad := newError(name)
	rows, err := csvfile.Read(bytes.NewReader(data), columns, bad)
	return rows, errors.Join(err, bad.OrNil())
}
