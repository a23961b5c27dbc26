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

// Classes of a row.
const (
	Core = "core" // asked of every horse
	Risk = "risk" // followed once a dose is in the record
	Off  = "off"  // a practice does not want it
)

// ScheduleRow is the schedule of one disease for one group of horses.
type ScheduleRow struct {
	Disease, Class, Group string
	// Doses is how many make the first series; DosesMost is more where the label decides.
	Doses, DosesMost     int
	First, Second, Third When
	Again                When
	Note                 string
	Evidence             exam.Evidence
	Source               string // for a person
	Keys                 string // of the sources, as the table has them
	Line                 int
}

// Practice says that the row is the practice's own.
func (r ScheduleRow) Practice() bool { return r.Evidence == ranges.PracticeOwn }

// Step is when the dose of a number, from 1, is due.
func (r ScheduleRow) Step(n int) When { return [...]When{{}, r.First, r.Second, r.Third}[min(n, 3)] }

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
				bad.Add(rec.Line, "the source %q is not in the list", key)
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
			bad.Add(rec.Line, "the disease %q has no name", row.Disease)
		}
		t.rows = append(t.rows, row)
	}
	return t, bad.OrNil()
}

// FileError lists the bad lines of a schedule. Nothing of the file was taken.
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
			bad.Add(rec.Line, "%s for %s stands on line %d already", row.Disease, row.Group, at)
			continue
		}
		seen[key] = rec.Line
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
func listOf(name string, columns ...string) ([]csvfile.Row, error) {
	data, err := tables.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("open the built-in schedule: %w", err)
	}
	bad := newError(name)
	rows, err := csvfile.Read(bytes.NewReader(data), columns, bad)
	return rows, errors.Join(err, bad.OrNil())
}

func columns() []string {
	return []string{"disease", "class", "group", "doses", "first", "second", "third", "again", "note"}
}

// groups are the groups of horses that a row may be for.
func groups() []string {
	return []string{
		"adult", "adult_vaccinated", "adult_unvaccinated", "adult_unvaccinated_inactivated", "adult_unvaccinated_MLV_intranasal",
		"adult_killed_IM", "adult_live_intranasal", "adult_or_foal", "broodmare", "broodmare_vaccinated", "broodmare_unvaccinated",
		"foal", "foal_of_vaccinated", "foal_of_unvaccinated", "foal_killed_IM", "foal_live_intranasal", "stallion", "mare", "colt",
	}
}

// parseRow reads the cells of one line; false where any of them is bad.
func parseRow(rec csvfile.Row, bad *FileError) (ScheduleRow, bool) {
	before := len(bad.Problems)
	c := rec.Cells
	row := ScheduleRow{Disease: c[0], Class: c[1], Group: c[2], Note: c[8], Line: rec.Line}
	if !diseaseForm().MatchString(row.Disease) {
		bad.Add(rec.Line, "%q is no name of a disease here: letters, digits and _ only", row.Disease)
	}
	if row.Class != Core && row.Class != Risk && row.Class != Off {
		bad.Add(rec.Line, "the class is core, risk or off, not %q", row.Class)
	}
	if !contains(groups(), row.Group) {
		bad.Add(rec.Line, "%q is no group of horses; one of: %s", row.Group, strings.Join(groups(), ", "))
	}
	doses, ok := map[string][2]int{"1": {1, 1}, "2": {2, 2}, "3": {3, 3}, "2-3": {2, 3}}[c[3]]
	if !ok {
		bad.Add(rec.Line, "the doses are 1, 2, 3 or 2-3, not %q", c[3])
	}
	row.Doses, row.DosesMost = doses[0], doses[1]
	for i, w := range []*When{&row.First, &row.Second, &row.Third, &row.Again} {
		var err error
		if *w, err = parseWhen(c[4+i]); err != nil {
			bad.Add(rec.Line, "%v", err)
		}
	}
	if len(bad.Problems) == before {
		checkSteps(row, rec.Line, bad)
	}
	return row, len(bad.Problems) == before
}

// checkSteps holds the steps of a series to what can be computed.
func checkSteps(row ScheduleRow, line int, bad *FileError) {
	for n := 1; n <= 3; n++ {
		w := row.Step(n)
		switch {
		case n > row.DosesMost && w.Base != Never:
			bad.Add(line, "there is a dose %d, but the series has %d", n, row.DosesMost)
		case n > 1 && n <= row.Doses && w.Base == Never:
			bad.Add(line, "dose %d of the series has no time", n)
		case w.Base == Every || w.Base == Pregnancy, n == 1 && w.Base == After:
			bad.Add(line, "dose %d cannot be %q", n, w.Base)
		}
	}
	if b := row.Again.Base; b == Now || b == Age || b == After || b == Gestation {
		bad.Add(line, "again is every 12mo, foaling 4-6wk, pregnancy or words, not %q", b)
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
