package intake

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// written is the answer to all steps of a column in words that no step takes: they are kept as they are written beside
// a step not done, or left out.
func (c column) written() []placed {
	if c.otherwise == ignored {
		return nil
	}
	out := make([]placed, len(c.places))
	for by := range c.places {
		out[by] = placed{by, answer{notDone: ReasonInWords}}
	}
	return out
}

// readEither reads a cell of one step, in whichever unit it is possible where the column says so.
func readEither(c column, step exam.Step, text string) (answer, error) {
	if !c.either {
		return readCell(step, text, c.unit)
	}
	var wrong error
	for _, u := range step.Units {
		got, err := readCell(step, text, u)
		if err == nil {
			return got, nil
		}
		wrong = err
	}
	return answer{}, wrong
}

// parted reads several answers in one cell, such as 38.1/36/12. A part that is empty or a hyphen was not recorded.
func (a *applied) parted(r sheetRow, i int) ([]placed, bool) {
	c, text := a.held[i], r.cells[i]
	parts := strings.Split(text, c.split)
	if len(parts) != len(c.places) {
		if c.otherwise != "" {
			return c.written(), true
		}
		a.e.AddAt(r.lineOf(i), c.name, "%s has %d parts between %q; %d are asked for", ownfile.Quote(text), len(parts), c.split, len(c.places))
		return nil, false
	}
	var out []placed
	for by, part := range parts {
		part = strings.TrimSpace(part)
		if part == "" || strings.Trim(part, "-–—?xX") == "" {
			continue
		}
		got, err := readFirst(c.places[by].step, part)
		switch {
		case err == nil:
			out = append(out, placed{by, got})
		case c.otherwise != "" && !isNumber(part):
			out = append(out, placed{by, answer{notDone: ReasonInWords}})
		default:
			a.e.AddAt(r.lineOf(i), c.name, "%v", err)
			return nil, false
		}
	}
	return out, true
}

// readFirst reads a number of a cell with several: in whichever unit it is possible where that settles it.
func readFirst(step exam.Step, text string) (answer, error) {
	return readEither(column{either: settles(step)}, step, text)
}
