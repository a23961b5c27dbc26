package intake

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// horse reads the columns that say which animal it was.
func (a *applied) horse(r sheetRow, at time.Time) exam.Horse {
	h := exam.Horse{
		Kind: a.m.horseKind, Sex: exam.SexUnknown, Birth: exam.Birth{Precision: exam.BornUnknown},
		Breed: a.cell(r, roleBreed), Colour: a.cell(r, roleColour),
		Owner: or(a.cell(r, roleOwner), a.m.horseOwner), Place: or(a.cell(r, rolePlace), a.m.horsePlace),
	}
	h.Name = a.name(r)
	var err error
	if text := a.cell(r, roleKind); text != "" {
		if h.Kind, err = readKind(text); err != nil {
			a.bad(r, roleKind, "%v", err)
		}
	} else if h.Kind == "" {
		a.bad(r, roleKind, "nothing says what kind of animal it is")
	}
	if text := a.cell(r, roleSex); text != "" {
		if h.Sex, err = readSex(text); err != nil {
			a.bad(r, roleSex, "%v", err)
		}
	}
	if h.Chip, err = exam.ReadChip(a.cell(r, roleChip)); err != nil {
		a.bad(r, roleChip, "%v", err)
	}
	a.birth(r, at, &h)
	return h
}

func (a *applied) name(r sheetRow) string {
	i, ok := a.at[roleName]
	if !ok {
		return ""
	}
	name := a.cell(r, roleName)
	if name == "" {
		a.bad(r, roleName, "nothing says which horse it was")
		return ""
	}
	if before := a.held[i].before; before != "" {
		name = before + " " + name
	}
	name = notation.CleanLine(name, 0)
	if whose, ok := a.m.spelled[strings.ToLower(name)]; ok {
		return whose
	}
	return name
}

func (a *applied) birth(r sheetRow, at time.Time, h *exam.Horse) {
	if text := a.cell(r, roleAge); text != "" {
		born, err := bornBy(text, at)
		if err != nil {
			a.bad(r, roleAge, "%v", err)
		}
		h.Birth = born
	}
	if text := a.cell(r, roleAgeClass); text != "" {
		switch strings.ToLower(text) {
		case "adult":
			h.Birth.Precision = exam.BornAdult
		case "foal", string(exam.BornFoal):
			h.Birth.Precision = exam.BornFoal
		default:
			a.bad(r, roleAgeClass, "%s is no age class; it is adult or under six months", ownfile.Quote(text))
		}
	}
	if text := a.cell(r, roleBirth); text != "" {
		born, err := a.born(text)
		if err != nil {
			a.bad(r, roleBirth, "%v", err)
		}
		h.Birth = born
	}
}

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
