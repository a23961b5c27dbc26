package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// findings gives a line for every place that the mapping has, in the order of
// the record: what was found, or why not.
func (a *applied) findings(r sheetRow) ([]exam.Entry, []string) {
	found := map[exam.Key]exam.Entry{}
	var notices []string
	for i, c := range a.held {
		if len(c.places) == 0 || (r.lines != nil && r.cells[i] == "") {
			continue // of a file with one finding a row, what has no row was not asked
		}
		answers, ok := a.answers(r, i)
		if !ok {
			continue
		}
		for by, p := range c.places {
			e := exam.Entry{Kind: exam.EntryNotDone, Step: p.step.ID, Site: p.site, Reason: string(exam.ReasonNotRecorded)}
			for _, got := range answers {
				if got.by == by {
					e = entryOf(p, got.answer, r.asTyped(i))
				}
				if got.by == by && got.answer.unlikely != "" {
					notices = append(notices, fmt.Sprintf("%s:%d: %s: %s", a.e.File, r.lineOf(i), c.name, got.answer.unlikely))
				}
			}
			found[p.key()] = e
		}
	}
	return a.inOrder(found), notices
}

// answers reads the cell of a column of steps; false after saying what is wrong.
func (a *applied) answers(r sheetRow, i int) ([]placed, bool) {
	c, text := a.held[i], r.cells[i]
	if text == "" {
		return nil, true
	}
	if got, ok := c.words[strings.ToLower(text)]; ok {
		return got, true
	}
	if c.split != "" {
		return a.parted(r, i)
	}
	step := c.places[0].step
	if c.words != nil && (len(c.places) > 1 || len(step.Choices) > 0 && c.otherwise == "") {
		known := make([]string, 0, len(c.words))
		for w := range c.words {
			known = append(known, w)
		}
		slices.Sort(known)
		if c.otherwise == "" {
			a.e.AddAt(r.lineOf(i), c.name, "%s is not among the values of this column in the mapping%s", ownfile.Quote(text), orMeant(text, known))
			return nil, false
		}
	}
	if len(c.places) > 1 {
		return c.written(), true
	}
	got, err := readEither(c, step, text)
	switch {
	case err == nil:
		return []placed{{0, got}}, true
	case c.otherwise != "" && !isNumber(text):
		return c.written(), true
	}
	a.e.AddAt(r.lineOf(i), c.name, "%v", err)
	return nil, false
}

// ReasonInWords is the reason of a step not done whose cell holds words that the step has no choice for. The words stay
// beside it.
const ReasonInWords = "only words were written"

// isNumber says that a cell is a number, with or without a unit: what is wrong with it is its size.
func isNumber(text string) bool {
	if _, rest := readBound(text); rest != "" {
		text = rest
	}
	_, err := notation.ParseQuantity(text)
	return err == nil
}

// entryOf makes a line of an answer. The text of the cell stays with it.
func entryOf(p place, a answer, cell string) exam.Entry {
	e := exam.Entry{Step: p.step.ID, Site: p.site}
	if a.notDone != "" {
		e.Kind, e.Reason = exam.EntryNotDone, a.notDone
		if !strings.HasPrefix(strings.ToLower(cell), "not done") {
			e.Note = "written: " + cell
		}
		return e
	}
	v := a.value
	if p.step.Kind != exam.KindNote {
		v.Typed = notation.CleanLine(cell, 60)
	}
	e.Kind, e.Value = exam.EntryFinding, &v
	return e
}

func (a *applied) inOrder(found map[exam.Key]exam.Entry) []exam.Entry {
	out := make([]exam.Entry, 0, len(found))
	for _, s := range a.m.steps.All() {
		for _, site := range append([]exam.Site{exam.NoSite, exam.Overall}, s.Sites...) {
			if e, ok := found[exam.Key{Step: s.ID, Site: site}]; ok {
				out = append(out, e)
			}
		}
	}
	return out
}

func (a *applied) row(r sheetRow) Visit {
	at := a.date(r)
	v := Visit{Line: r.line, Horse: a.horse(r, at)}
	by := cmp.Or(a.cell(r, roleBy), a.m.by)
	if by == "" {
		a.bad(r, roleBy, "nothing says who examined")
	}
	add := func(e exam.Entry) {
		e.At, e.By = at, by
		v.Entries = append(v.Entries, e)
	}
	origin := a.origin
	origin.Line = r.line
	add(exam.Entry{Kind: exam.EntryOpened, Opening: &exam.Opening{
		Horse: v.Horse, Routine: a.m.routine, Reason: cmp.Or(a.cell(r, roleReason), a.m.reason), Source: origin.String(),
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
	a.weights(r, &v)
	return v
}

func (a *applied) date(r sheetRow) time.Time {
	zone := a.m.Zone
	if zone == nil {
		zone = time.UTC
	}
	text, form := a.cell(r, roleDate), a.form
	if text == "" {
		text, form = a.m.date, dayForm{}
	}
	if text == "" {
		a.bad(r, roleDate, "nothing says when the exam was")
		return time.Time{}
	}
	at, err := readDate(text, a.cell(r, roleTime), form, zone)
	switch {
	case err != nil:
		a.bad(r, roleDate, "%v", err)
	case !a.m.Latest.IsZero() && at.After(a.m.Latest) && !sameDay(at, a.m.Latest):
		a.bad(r, roleDate, "%s lies in the future", ownfile.Quote(text))
	case !a.m.Latest.IsZero() && at.After(a.m.Latest):
		at = a.m.Latest // today's date alone stands for noon, which may not have been yet
	}
	return at
}

func sameDay(a, b time.Time) bool {
	return a.Format(time.DateOnly) == b.In(a.Location()).Format(time.DateOnly)
}

// notes are the note of every visit and the columns kept as notes.
func (a *applied) notes(r sheetRow) []string {
	var out []string
	if a.m.note != "" {
		out = append(out, a.m.note)
	}
	for i, c := range a.held {
		if c.role == roleNote && r.cells[i] != "" {
			out = append(out, fmt.Sprintf("%s: %s", c.label, r.cells[i]))
		}
	}
	return append(out, r.remarks...)
}
