package intake

import (
	"cmp"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// oneFinding says that the file has one finding a row, not one visit.
func (a *applied) oneFinding() bool {
	_, ok := a.at[roleStep]
	return ok
}

// pivot turns a table of one finding a row into one of one visit a row: rows that
// agree in every column but step, site, value, unit and notes are one visit, and
// every place that occurs becomes a column.
func (a *applied) pivot() {
	p := &pivoting{applied: a, rows: map[string]int{}, columns: map[exam.Key]int{}}
	for i, c := range a.held {
		if !slices.Contains([]role{roleStep, roleSite, roleValue, roleUnit}, c.role) {
			p.kept = append(p.kept, i)
		}
	}
	out := &sheet{digest: a.s.digest, zero: a.s.zero, notices: a.s.notices, broken: a.s.broken}
	for _, i := range p.kept {
		out.head = append(out.head, a.s.head[i])
		p.held = append(p.held, a.held[i])
	}
	for i, r := range a.s.rows {
		p.row(out, i, r)
	}
	for i := range out.rows { // places that came up later than the row
		r := &out.rows[i]
		r.cells = append(r.cells, make([]string, len(out.head)-len(r.cells))...)
	}
	a.s, a.held, a.at = out, p.held, map[role]int{}
	for i, c := range a.held {
		a.at[c.role] = i
	}
}

type pivoting struct {
	*applied
	kept    []int // columns of the file that stay
	held    []column
	rows    map[string]int // key of a visit -> row
	columns map[exam.Key]int
}

func (p *pivoting) row(out *sheet, number int, r sheetRow) {
	var key strings.Builder
	cells := make([]string, len(p.kept))
	for n, i := range p.kept {
		cells[n] = r.cells[i]
		if p.applied.held[i].role != roleNote {
			key.WriteString(r.cells[i] + "\x00")
		}
	}
	at, ok := p.rows[key.String()]
	if !ok {
		at = len(out.rows)
		p.rows[key.String()] = at
		out.rows = append(out.rows, sheetRow{line: r.line, cells: cells})
	} else {
		p.notes(&out.rows[at], cells)
	}
	out.rows[at].parts = append(out.rows[at].parts, number)
	p.finding(out, at, r)
}

// finding puts what a row found into its visit, or says in the visit what is wrong with it.
func (p *pivoting) finding(out *sheet, at int, r sheetRow) {
	whole := p.e
	p.e = newFileError(whole.File)
	defer func() {
		out.rows[at].faults = append(out.rows[at].faults, p.e.Problems...)
		p.e = whole
	}()
	word := p.cell(r, roleStep)
	text := p.value(r)
	typed := r.cells[p.at[roleValue]]
	if unit := p.cell(r, roleUnit); unit != "" && text != "" && !strings.HasPrefix(strings.ToLower(text), "not done") {
		text, typed = text+" "+unit, typed+" "+unit
	}
	switch strings.ToLower(word) {
	case ignored:
		return
	case string(roleNote):
		p.remark(out, at, r, text)
		return
	}
	where, ok := p.place(r, word)
	if ok {
		p.put(out, at, r, where, text, typed)
	}
}

// value is what a row found, translated where the map does so: for its test, or for any.
func (p *pivoting) value(r sheetRow) string {
	i := p.at[roleValue]
	if out, ok := p.applied.held[i].texts[strings.ToLower(testWord(r.cells[p.at[roleStep]], r.cells[i]))]; ok {
		return out
	}
	return p.cell(r, roleValue)
}

// remark keeps a finding that no step takes as a note of its visit.
func (p *pivoting) remark(out *sheet, at int, r sheetRow, text string) {
	row := &out.rows[at]
	name := r.cells[p.at[roleStep]]
	if i, ok := p.at[roleSite]; ok && r.cells[i] != "" {
		name += " " + r.cells[i]
	}
	row.remarks = append(row.remarks, name+": "+text)
}

// notes adds the notes of a further row of the same visit.
func (p *pivoting) notes(row *sheetRow, cells []string) {
	for n, i := range p.kept {
		if p.applied.held[i].role == roleNote && cells[n] != "" && row.cells[n] != cells[n] {
			row.cells[n] = strings.TrimPrefix(row.cells[n]+"; "+cells[n], "; ")
		}
	}
}

// place reads step and site of a row.
func (p *pivoting) place(r sheetRow, text string) (place, bool) {
	if text == "" {
		if len(p.e.Problems) == 0 {
			p.bad(r, roleStep, "nothing says which step this is")
		}
		return place{}, false
	}
	if site := p.cell(r, roleSite); site != "" {
		if named, ok := siteWords()[strings.ToLower(site)]; ok {
			site = string(named)
		}
		text += ":" + site
	}
	where, wrong := readPlace(p.m.steps, text)
	if wrong != "" {
		p.bad(r, roleStep, "%s", wrong)
		return place{}, false
	}
	return where, true
}

func (p *pivoting) put(out *sheet, at int, r sheetRow, where place, text, typed string) {
	i, ok := p.columns[where.key()]
	if !ok {
		i = len(out.head)
		p.columns[where.key()] = i
		out.head = append(out.head, placeWords(where))
		c := column{name: placeWords(where), places: []place{where}}
		if v, ok := p.at[roleValue]; ok {
			c.otherwise = p.applied.held[v].otherwise
		}
		p.held = append(p.held, c)
	}
	row := &out.rows[at]
	if n := len(out.head) - len(row.cells); n > 0 {
		row.cells = append(row.cells, make([]string, n)...)
	}
	if row.lines == nil {
		row.lines = map[int]int{}
	}
	if line, twice := row.lines[i]; twice {
		if row.cells[i] != text {
			p.bad(r, roleStep, "%s is there twice in one visit; line %d has it too", ownfile.Quote(placeWords(where)), line)
		}
		return
	}
	row.cells[i], row.lines[i] = text, r.line
	if typed != text {
		if row.typed == nil {
			row.typed = map[int]string{}
		}
		row.typed[i] = typed
	}
	if text == "" {
		row.cells[i] = "not done"
	}
}

// asTyped is a cell as the file has it, before a map translated it.
func (r sheetRow) asTyped(i int) string { return cmp.Or(r.typed[i], r.cells[i]) }

// lineOf is the line of the file that a cell came from.
func (r sheetRow) lineOf(i int) int {
	if line, ok := r.lines[i]; ok {
		return line
	}
	return r.line
}
