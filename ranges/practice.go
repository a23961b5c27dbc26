package ranges

import (
	"io"
	"maps"

	"loosebox/ranges/csvfile"
)

// FileError says why a ranges file was refused, line by line (the first 20). Nothing of it was taken.
type FileError = csvfile.FileError

func newError(name string) *FileError {
	return csvfile.New(name, "the ranges file %s is refused; the ranges in use stay. Correct it and try again:")
}

// With returns a table in which the rows of a practice's own file replace those of t; t itself is not changed. A row of
// the file replaces the whole row of its measure and class: a limit left empty is no limit. A temperature given in one
// unit replaces the rows of both. Name is the file's name for messages. A file with any bad line is refused as a whole
// with a *FileError that lists the lines; another error means that the reader failed.
func (t *Table) With(practice io.Reader, name string) (*Table, error) {
	bad := newError(name)
	records, err := csvfile.Read(practice, columns(), bad)
	if err != nil {
		return nil, err
	}
	p := parser{origin: OriginPractice, sources: t.sources, bad: bad}
	rows := p.rows(records)
	if err := bad.OrNil(); err != nil {
		return nil, err
	}
	out := &Table{rows: maps.Clone(t.rows), sources: maps.Clone(t.sources), absent: t.absent, lent: t.lent}
	for _, r := range rows {
		for _, u := range r.Measure.Units() {
			delete(out.rows, key{r.Measure, r.Class, u})
		}
	}
	for _, r := range rows {
		out.rows[r.key()] = r
		for _, l := range r.limits() {
			out.cite(l)
		}
	}
	return out, nil
}

// cite adds the free-text sources of a practice's limit to the table's sources.
func (t *Table) cite(l *Limit) {
	if l.Empty() {
		return
	}
	for _, side := range []string{SideLow, SideHigh} {
		text := l.On(side).Source
		if _, ok := t.sources[text]; !ok {
			t.sources[text] = Source{Code: text, Text: text, Tier: PracticeOwn}
		}
	}
}
