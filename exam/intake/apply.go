package intake

import (
	"fmt"
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

// Source is what the visit's opening says of where it came from: the file's name
// and a digest of its bytes, so that the same file is known again.
func (v Visit) Source() string { return v.Entries[0].Opening.Source }

// At is the time of the visit.
func (v Visit) At() time.Time { return v.Entries[0].At }

// closedByImport is the reason in the closing line of an imported visit.
const closedByImport = "imported; closed as it was when it was written"

// Apply reads a spreadsheet and gives a visit for each of its rows. A field that
// is mapped to a step and empty becomes a step not done, with the reason
// exam.ReasonNotRecorded. A file with anything wrong gives a *FileError that
// names line and column, and no visit.
func (m *Map) Apply(table io.Reader, name string) ([]Visit, error) {
	e := newFileError(name)
	s, err := readSheet(table, e)
	if err != nil {
		return nil, err
	}
	if len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	a := &applied{m: m, e: e, s: s, source: fmt.Sprintf("%s (SHA-256 %s)", e.File, s.digest)}
	if a.columns(); len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	if a.oneFinding() {
		a.pivot()
	}
	if a.dates(); len(e.Problems) > 0 {
		return nil, e.OrNil()
	}
	visits := make([]Visit, 0, len(a.s.rows))
	for _, r := range a.s.rows {
		visits = append(visits, a.row(r))
	}
	a.agree(visits)
	if err := e.OrNil(); err != nil {
		return nil, err
	}
	visits[0].Notices = append(a.s.notices, visits[0].Notices...)
	return visits, nil
}

type applied struct {
	m      *Map
	e      *FileError
	s      *sheet
	source string
	held   []column     // by number of the file's column
	at     map[role]int // role -> number of the file's column
	forms  []string     // layouts of dates that were found in the file
}

// dates finds out how a column of dates without a format writes them.
func (a *applied) dates() {
	i, ok := a.at[roleDate]
	if !ok || a.held[i].layout != "" {
		return
	}
	forms, notice, problem, line := dateForm(a.s.rows, i)
	if problem != "" {
		a.e.AddAt(line, a.s.head[i], "%s", problem)
	}
	if notice != "" {
		a.s.notices = append(a.s.notices, a.e.File+": "+notice)
	}
	a.forms = forms
}

// columns sets the file's columns beside those of the mapping: every one of
// either must be in both.
func (a *applied) columns() {
	a.at = map[role]int{}
	a.held = make([]column, len(a.s.head))
	seen := map[string]bool{}
	for i, name := range a.s.head {
		seen[strings.ToLower(name)] = true
		if name == "" {
			a.held[i].role = roleIgnore
			continue
		}
		c, ok := a.m.find(name)
		if !ok {
			a.e.AddAt(1, name, "the mapping does not say what this column means%s (%q: ignore leaves it out)", orMeant(name, a.m.names()), name)
			continue
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

func (a *applied) row(r sheetRow) Visit {
	v := Visit{Line: r.line, Horse: a.horse(r)}
	at := a.date(r)
	by := or(a.cell(r, roleBy), a.m.by)
	if by == "" {
		a.bad(r, roleBy, "nothing says who examined")
	}
	add := func(e exam.Entry) {
		e.At, e.By = at, by
		v.Entries = append(v.Entries, e)
	}
	add(exam.Entry{Kind: exam.EntryOpened, Opening: &exam.Opening{
		Horse: v.Horse, Routine: a.m.routine, Reason: or(a.cell(r, roleReason), a.m.reason), Source: a.source,
	}})
	if text := a.cell(r, roleAtRest); text != "" {
		c, err := readAtRest(text)
		if err != nil {
			a.bad(r, roleAtRest, "%v", err)
		}
		add(exam.Entry{Kind: exam.EntryContext, Context: &c})
	}
	found, notices := a.findings(r)
	v.Notices = notices
	for _, e := range found {
		add(e)
	}
	for _, text := range a.notes(r) {
		add(exam.Entry{Kind: exam.EntryNote, Note: text})
	}
	add(exam.Entry{Kind: exam.EntryClosed, Reason: closedByImport})
	return v
}

func or(text, otherwise string) string {
	if text != "" {
		return text
	}
	return otherwise
}

func (a *applied) date(r sheetRow) time.Time {
	zone, layout := a.m.Zone, ""
	if zone == nil {
		zone = time.UTC
	}
	text := a.cell(r, roleDate)
	if text != "" {
		layout = a.held[a.at[roleDate]].layout
	} else {
		text = a.m.date
	}
	if text == "" {
		a.bad(r, roleDate, "nothing says when the exam was")
		return time.Time{}
	}
	at, err := readDate(text, layout, zone, a.forms...)
	switch {
	case err != nil:
		a.bad(r, roleDate, "%v", err)
	case !a.m.Latest.IsZero() && at.After(a.m.Latest):
		a.bad(r, roleDate, "%s lies in the future", ownfile.Quote(text))
	}
	return at
}

// notes are the note of every visit and the columns kept as notes.
func (a *applied) notes(r sheetRow) []string {
	var out []string
	if a.m.note != "" {
		out = append(out, a.m.note)
	}
	for i, c := range a.held {
		if c.role == roleNote && r.cells[i] != "" {
			out = append(out, c.label+": "+r.cells[i])
		}
	}
	return out
}
