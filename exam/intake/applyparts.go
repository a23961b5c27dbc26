package intake

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
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

// parted reads several answers in one cell, such as 38.1/36/12.
func (a *applied) parted(r sheetRow, i int) ([]placed, bool) {
	out, err := a.held[i].readParts(r.cells[i])
	if err != nil {
		a.e.AddAt(r.lineOf(i), a.held[i].name, "%v", err)
	}
	return out, err == nil
}

// readParts reads the answers to the steps of a column in one cell, with the column's sign between. A part that is empty or
// a hyphen was not recorded. Words that no step takes are kept where the column says so, and a cell without the sign too.
func (c column) readParts(text string) ([]placed, error) {
	parts := strings.Split(text, c.split)
	if len(parts) != len(c.places) {
		if c.otherwise != "" {
			return c.written(), nil
		}
		return nil, &notation.Refusal{Typed: text, Why: fmt.Sprintf("%s has %d parts between %q; %d are asked for", ownfile.Quote(text), len(parts), c.split, len(c.places))}
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
			return nil, err
		}
	}
	return out, nil
}

// readFirst reads a number of a cell with several: in whichever unit it is possible where that settles it.
func readFirst(step exam.Step, text string) (answer, error) {
	return readEither(column{either: settles(step)}, step, text)
}
