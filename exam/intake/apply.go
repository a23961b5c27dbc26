package intake

import (
	"io"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// Visit is one row of a spreadsheet as a visit: the horse as it was that day and
// the lines of the record, the opening first, the closing last.
type Visit struct {
	Line    int // in the spreadsheet, counted from 1
	Horse   exam.Horse
	Entries []exam.Entry
	// Notices say what was taken although it is hardly ever seen.
	Notices []string
}

// Source is what the visit's opening says of where it came from; see Origin.
func (v Visit) Source() string { return v.Entries[0].Opening.Source }

// At is the time of the visit.
func (v Visit) At() time.Time { return v.Entries[0].At }

// closedByImport is the reason in the closing line of an imported visit.
const closedByImport = "imported; closed as it was"

// Apply reads a spreadsheet and gives a visit for each of its rows, or none: a file with anything wrong
// gives a *FileError that names line and column. Read takes what is right and keeps the rest apart.
func (m *Map) Apply(table io.Reader, name string) ([]Visit, error) {
	r, err := m.Read(table, name)
	if err != nil {
		return nil, err
	}
	if err := r.Strict(); err != nil {
		return nil, err
	}
	visits := make([]Visit, 0, len(r.Exams))
	for i := range r.Exams {
		visits = append(visits, r.Visit(i))
	}
	visits[0].Notices = append(r.Notices, visits[0].Notices...)
	return visits, nil
}

type applied struct {
	m      *Map
	e      *FileError // of the row that is read now
	s      *sheet
	origin ImportedFrom
	held   []column     // by number of the file's column
	at     map[role]int // role -> number of the file's column
	form   dayForm      // of the dates
}

// dates finds out how a column of dates without a format writes them.
func (a *applied) dates() {
	i, ok := a.at[roleDate]
	if !ok {
		return
	}
	given := a.held[i].form
	if a.form = given; given.explicit && !given.asked && given.order != notSaid {
		return
	}
	f := findForm(a.s.rows, i, a.s.zero, a.m.Latest)
	if given.serial != 0 && !given.asked { // the map says how days are counted; the order of three numbers is found
		if f.form.serial = given.serial; f.ask == f.days {
			f.ask = ""
		}
	}
	if f.ask != "" {
		a.e.AddAt(f.line, a.s.head[i], "%s", f.ask)
	}
	if f.notice != "" {
		a.s.notices = append(a.s.notices, a.e.File+": "+f.notice)
	}
	a.form = f.form
}

// WhyColumn is the name of the column that a file of rows to be put right has beside those of its sheet. It is left
// out when that file is imported.
const WhyColumn = "Why it did not come in"

// columns sets the file's columns beside those of the mapping: every one of
// either must be in both.
func (a *applied) columns() {
	a.at = map[role]int{}
	a.held = make([]column, len(a.s.head))
	seen := map[string]bool{}
	for i, name := range a.s.head {
		seen[strings.ToLower(name)] = true
		if name == "" || name == WhyColumn {
			a.held[i].role = roleIgnore
			continue
		}
		c, ok := a.m.find(name)
		if !ok {
			a.e.AddAt(1, name, "the mapping does not say what this column means%s (%q: ignore leaves it out)", orMeant(name, a.m.names()), name)
			continue
		}
		if c.asked != "" && c.role != roleDate {
			a.e.AddAt(1, name, "the map leaves open %s: write it in the place of ask", c.asked)
		}
		a.held[i] = c
		a.at[c.role] = i
	}
	for _, c := range a.m.columns {
		if !seen[strings.ToLower(c.name)] {
			a.e.AddAt(1, c.name, "the mapping has this column and the file does not%s", orMeant(c.name, a.s.head))
		}
	}
}

// fillDown puts into an empty cell, or one with ditto marks, what stands above it, where the map says so.
func (a *applied) fillDown() {
	for i, c := range a.held {
		if !c.above {
			continue
		}
		last := ""
		for _, r := range a.s.rows {
			if text := r.cells[i]; text == "" || isDitto(text) {
				r.cells[i] = last
			} else {
				last = text
			}
		}
	}
}

func isDitto(text string) bool {
	switch strings.ToLower(text) {
	case `"`, `''`, "”", "“", "〃", "do.", "do", "ditto", "-\"-":
		return true
	}
	return false
}

// cell is a cell of a role, translated where the mapping does so.
func (a *applied) cell(r sheetRow, want role) string {
	i, ok := a.at[want]
	if !ok {
		return ""
	}
	c, text := a.held[i], r.cells[i]
	if text == "" || c.texts == nil {
		return text
	}
	if out, ok := c.texts[strings.ToLower(text)]; ok {
		return out
	}
	switch {
	case c.otherwise == ignored:
		return ""
	case c.otherwise == asWritten, want == roleValue:
		return text
	}
	a.bad(r, want, "%s is not among the values of this column in the mapping", ownfile.Quote(text))
	return ""
}

// bad keeps a problem with the column of a role, or with the row.
func (a *applied) bad(r sheetRow, of role, format string, args ...any) {
	name := ""
	if i, ok := a.at[of]; ok {
		name = a.s.head[i]
	}
	a.e.AddAt(r.line, name, format, args...)
}
