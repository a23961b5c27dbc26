package ranges

import (
	"cmp"
	"embed"
	"fmt"
	"slices"

	"loosebox/ranges/csvfile"
)

//go:embed tables/*.csv
var tables embed.FS

type key struct {
	measure Measure
	class   Class
	unit    Unit
}

func (r Row) key() key { return key{r.Measure, r.Class, r.Unit} }

type pair struct {
	measure Measure
	class   Class
}

// Table is a set of rows with their sources. It never changes after it is made and may be used by several goroutines.
type Table struct {
	rows    map[key]Row
	sources map[string]Source
	absent  map[pair]string
	lent    map[pair]loan
}

// BuiltIn reads the embedded tables. An error means the program was built from damaged tables.
func BuiltIn() (*Table, error) {
	t := &Table{rows: make(map[key]Row), sources: make(map[string]Source), absent: make(map[pair]string), lent: make(map[pair]loan)}
	if err := t.readSources("tables/sources.csv"); err != nil {
		return nil, err
	}
	if err := t.readAbsent("tables/absent.csv"); err != nil {
		return nil, err
	}
	for _, name := range []string{"temperature", "heart", "breathing", "perfusion"} {
		if err := t.readRows("tables/" + name + ".csv"); err != nil {
			return nil, err
		}
	}
	if err := t.readLent("tables/lent.csv"); err != nil {
		return nil, err
	}
	return t, nil
}

// builtIn reads one embedded file; each is given all its lines and adds problems to bad.
func builtIn(name string, columns []string, each func(records []csvfile.Line, bad *csvfile.FileError)) error {
	f, err := tables.Open(name)
	if err != nil {
		return fmt.Errorf("open built-in ranges: %w", err)
	}
	defer func() { _ = f.Close() }()
	bad := newError(name)
	records, err := csvfile.Read(f, columns, bad)
	if err != nil {
		return err
	}
	each(records, bad)
	return bad.OrNil()
}

func (t *Table) readSources(name string) error {
	return builtIn(name, []string{"code", "tier", "text"}, func(records []csvfile.Line, bad *csvfile.FileError) {
		for _, r := range records {
			s := Source{Code: r.Cells[0], Tier: Evidence(r.Cells[1]), Text: r.Cells[2]}
			_, again := t.sources[s.Code]
			if again || s.Code == "" || s.Text == "" || !slices.Contains(Tiers(), s.Tier) {
				bad.Add(r.Number, "source %s: code, tier or text is not right", csvfile.Quoted(s.Code))
				continue
			}
			t.sources[s.Code] = s
		}
	})
}

func (t *Table) readAbsent(name string) error {
	return builtIn(name, []string{"measure", "class", "why"}, func(records []csvfile.Line, bad *csvfile.FileError) {
		for _, r := range records {
			p := pair{Measure(r.Cells[0]), Class(r.Cells[1])}
			if !p.measure.Valid() || !p.class.Valid() || t.absent[p] != "" || r.Cells[2] == "" {
				bad.Add(r.Number, "measure, class or reason is not right, or there twice")
				continue
			}
			t.absent[p] = r.Cells[2]
		}
	})
}

// held reports whether the class has a row of its own for the measure.
func (t *Table) held(p pair) bool {
	return slices.ContainsFunc(p.measure.Units(), func(u Unit) bool {
		_, ok := t.rows[key{p.measure, p.class, u}]
		return ok
	})
}

func (t *Table) readRows(name string) error {
	return builtIn(name, columns(), func(records []csvfile.Line, bad *csvfile.FileError) {
		p := parser{origin: OriginBuiltIn, sources: t.sources, bad: bad}
		for _, r := range p.rows(records) {
			if _, ok := t.rows[r.key()]; ok {
				bad.Add(r.Line, "%s of %q is also in another table", r.Measure, r.Class)
			}
			t.rows[r.key()] = r
		}
	})
}

// Lookup gives the row of the class in unit u: its own, or the one that is lent to it (From is then set, and no evidence
// is stronger than common practice). A temperature held only in the other unit is converted; sources and evidence stay.
// False where neither is held; Absent may say why.
func (t *Table) Lookup(m Measure, c Class, u Unit) (Row, bool) {
	if r, ok := t.own(m, c, u); ok {
		return r, true
	}
	l, ok := t.lent[pair{m, c}]
	if !ok {
		return Row{}, false
	}
	r, ok := t.own(m, l.from, u)
	if !ok {
		return Row{}, false
	}
	return r.lend(c, l), true
}

func (t *Table) own(m Measure, c Class, u Unit) (Row, bool) {
	if r, ok := t.rows[key{m, c, u}]; ok {
		return r, true
	}
	from, _, ok := otherTemperature(u)
	if !ok {
		return Row{}, false
	}
	r, ok := t.rows[key{m, c, from}]
	if !ok {
		return Row{}, false
	}
	return r.in(u)
}

// Rows lists every row, lent ones included, sorted by measure, class and unit.
func (t *Table) Rows() []Row {
	rows := make([]Row, 0, len(t.rows)+len(t.lent))
	for _, r := range t.rows {
		rows = append(rows, r)
	}
	for p := range t.lent {
		if t.held(p) {
			continue // a practice gave the class a row of its own
		}
		for _, u := range p.measure.Units() {
			if r, ok := t.Lookup(p.measure, p.class, u); ok {
				rows = append(rows, r)
			}
		}
	}
	measures, classes := Measures(), Classes()
	slices.SortFunc(rows, func(a, b Row) int {
		return cmp.Or(
			cmp.Compare(slices.Index(measures, a.Measure), slices.Index(measures, b.Measure)),
			cmp.Compare(slices.Index(classes, a.Class), slices.Index(classes, b.Class)),
			cmp.Compare(a.Unit, b.Unit),
		)
	})
	return rows
}

// Source is the source with a code; false for an unknown code. A practice's free text is its own code, with tier
// PracticeOwn.
func (t *Table) Source(code string) (Source, bool) {
	s, ok := t.sources[code]
	return s, ok
}

// Cite is the text of a source for a person; an unknown code is given back as it is.
func (t *Table) Cite(code string) string {
	if s, ok := t.sources[code]; ok {
		return s.Text
	}
	return code
}

// Absent says why no row is held for a measure of a class; false when one is held or lent, or the pair is not known.
func (t *Table) Absent(m Measure, c Class) (why string, ok bool) {
	p := pair{m, c}
	if _, lent := t.lent[p]; lent || t.held(p) {
		return "", false
	}
	why, ok = t.absent[p]
	return why, ok
}
