package due

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
	"loosebox/ranges/csvfile"
)

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
func parseRow(rec csvfile.Line, bad *FileError) (ScheduleRow, bool) {
	before := len(bad.Problems)
	c := rec.Cells
	row := ScheduleRow{Disease: c[0], Class: c[1], Group: c[2], Note: c[8], Line: rec.Number}
	if !diseaseForm().MatchString(row.Disease) {
		bad.Add(rec.Number, "%q is no name of a disease here: letters, digits and _ only", row.Disease)
	}
	if row.Class != Core && row.Class != Risk && row.Class != Off {
		bad.Add(rec.Number, "the class is core, risk or off, not %q", row.Class)
	}
	if !slices.Contains(groups(), row.Group) {
		bad.Add(rec.Number, "%q is no group of horses; one of: %s", row.Group, strings.Join(groups(), ", "))
	}
	doses, ok := map[string][2]int{"1": {1, 1}, "2": {2, 2}, "3": {3, 3}, "2-3": {2, 3}}[c[3]]
	if !ok {
		bad.Add(rec.Number, "the doses are 1, 2, 3 or 2-3, not %q", c[3])
	}
	row.Doses, row.DosesMost = doses[0], doses[1]
	for i, w := range []*When{&row.First, &row.Second, &row.Third, &row.Again} {
		var err error
		if *w, err = parseWhen(c[4+i]); err != nil {
			bad.Add(rec.Number, "%v", err)
		}
	}
	if len(bad.Problems) == before {
		checkSteps(row, rec.Number, bad)
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
