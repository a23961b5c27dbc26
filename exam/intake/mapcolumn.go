package intake

import (
	"strings"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

func (f *mapForm) columns(n ast.Node) {
	for _, pair := range f.pairs(n, "columns") {
		name, ok := nodeText(pair.Key)
		name = notation.CleanLine(name, 80)
		line := ownfile.LineOf(pair.Key)
		if !ok || name == "" {
			f.Add(line, "a column needs its name as the file has it")
			continue
		}
		if i, twice := f.m.named[strings.ToLower(name)]; twice {
			f.AddAt(line, name, "this column is named twice; line %d has it too", f.m.columns[i].line)
			continue
		}
		f.m.named[strings.ToLower(name)] = len(f.m.columns)
		f.m.columns = append(f.m.columns, f.column(column{name: name, line: line}, pair.Value))
	}
}

// column reads what stands behind a column's name: a word, or several keys.
func (f *mapForm) column(c column, n ast.Node) column {
	if text, ok := nodeText(n); ok {
		f.means(&c, text)
		if c.role == roleNote {
			c.label = c.name
		}
		return c
	}
	var values ast.Node
	for _, pair := range f.pairs(n, "a column") {
		key, _ := nodeText(pair.Key)
		switch key {
		case "values":
			values = pair.Value
		case "steps":
			f.steps(&c, pair.Value)
		case "is", "step", "unit", "note", "before", "format", "else", "split", "blank", "weights":
			f.key(&c, key, pair)
		default:
			f.AddAt(ownfile.LineOf(pair.Key), c.name, "%s is no key of a column. Keys: is, step, steps, unit, values, else, split, blank, weights, note, before, format", ownfile.Quote(key))
		}
	}
	f.fits(&c, values != nil)
	if values != nil {
		f.values(&c, values)
	}
	return c
}

func (f *mapForm) key(c *column, key string, pair *ast.MappingValueNode) {
	text, ok := nodeText(pair.Value)
	text = notation.CleanLine(text, 0)
	line := ownfile.LineOf(pair.Key)
	if !ok || text == "" {
		f.AddAt(line, c.name, "%s: needs a word", key)
		return
	}
	switch key {
	case "is":
		f.means(c, text)
	case "step":
		f.place(c, line, text)
	case "unit":
		f.unit(c, line, text)
	case "note":
		c.role, c.label = roleNote, text
	case "before":
		c.before = text
	case "format":
		form, ok := readForm(text)
		if !ok {
			f.AddAt(line, c.name, "%s is no form of a date. Write DD/MM/YYYY hh:mm, D.M.YYYY or serial 1900, for example", ownfile.Quote(text))
		}
		c.form = form
		if form.asked {
			c.asked = "how its dates are meant"
		}
	case "split":
		if c.split = text; strings.EqualFold(text, askWord) {
			c.asked = "which of its numbers is which"
		}
	default:
		f.choice(c, key, line, text)
	}
}

// means reads a word behind a column's name: a role or a step.
func (f *mapForm) means(c *column, text string) {
	lower := role(strings.ToLower(notation.CleanLine(text, 80)))
	for _, r := range roles() {
		if r == lower {
			c.role = r
			return
		}
	}
	p, wrong := readPlace(f.m.steps, text)
	if wrong == "" {
		c.places = append(c.places, p)
		return
	}
	known := identities(f.m.steps)
	for _, r := range roles() {
		known = append(known, string(r))
	}
	if _, ok := f.m.steps.ByID(exam.StepID(strings.Split(string(lower), ":")[0])); !ok {
		wrong = ownfile.Quote(text) + " is neither a step nor one of " + joined(roles()) + orMeant(text, known)
	}
	f.AddAt(c.line, c.name, "%s", wrong)
}

func (f *mapForm) place(c *column, line int, text string) {
	p, wrong := readPlace(f.m.steps, text)
	if wrong != "" {
		f.AddAt(line, c.name, "%s", wrong)
		return
	}
	c.places = append(c.places, p)
}

func (f *mapForm) steps(c *column, n ast.Node) {
	list, ok := n.(*ast.SequenceNode)
	if !ok {
		f.AddAt(ownfile.LineOf(n), c.name, "steps: is a list such as [demeanour, pain.signs]")
		return
	}
	for _, v := range list.Values {
		text, _ := nodeText(v)
		f.place(c, ownfile.LineOf(v), text)
	}
}

// fits checks that the keys of a column go together.
func (f *mapForm) fits(c *column, values bool) {
	wrong := ""
	switch {
	case c.role == roleSteps && len(c.places) == 0:
		wrong = "says neither what it is nor which step it holds"
	case c.role != roleSteps && len(c.places) > 0:
		wrong = "cannot hold a step and be the " + string(c.role)
	case len(c.places) > 1 && !values && c.split == "" && c.otherwise == "":
		wrong = "holds several steps; values: must say what each word means for them, or split: the sign between the answers"
	case c.split != "" && len(c.places) < 2:
		wrong = "has split:, which belongs to several steps in one cell"
	case c.either && (len(c.places) != 1 || !settles(c.places[0].step)):
		wrong = "cannot take a number in either unit, because it is possible in both"
	case c.above && c.role == roleSteps:
		wrong = "has blank:, which is not for findings: an empty cell was not recorded"
	case c.heavy != "" && (len(c.places) != 1 || c.places[0].step.Kind != exam.KindWeight):
		wrong = "has weights:, which belongs to the body weight"
	case c.unit != notation.NoUnit && (len(c.places) != 1 || !takesUnit(c.places[0].step, c.unit)):
		wrong = "does not take the unit " + string(c.unit)
	case c.before != "" && c.role != roleName:
		wrong = "has before:, which belongs to the horse name"
	case c.form != (dayForm{}) && c.role != roleDate:
		wrong = "has format:, which belongs to the date"
	case values && (c.role == roleIgnore || c.role == roleNote):
		wrong = "has values:, but is not read as anything"
	}
	if wrong != "" && !f.blamed(c) {
		f.AddAt(c.line, c.name, "%s", wrong)
	}
}

// blamed says that something is wrong with the column already.
func (f *mapForm) blamed(c *column) bool {
	for _, p := range f.Problems {
		if p.Column == notation.CleanLine(c.name, 60) {
			return true
		}
	}
	return false
}

func (f *mapForm) values(c *column, n ast.Node) {
	c.words, c.texts = map[string][]placed{}, map[string]string{}
	seen := map[string]bool{}
	for _, pair := range f.pairs(n, "values") {
		word, ok := nodeText(pair.Key)
		word = strings.ToLower(notation.CleanLine(word, 200))
		line := ownfile.LineOf(pair.Key)
		switch {
		case !ok || word == "":
			f.AddAt(line, c.name, "a value needs the word of the file")
		case seen[word]:
			f.AddAt(line, c.name, "the word %s is translated twice", ownfile.Quote(word))
		case c.role != roleSteps:
			c.texts[word] = f.text(pair.Value, ownfile.Quote(word))
		default:
			c.words[word] = f.answers(c, word, pair.Value)
		}
		seen[word] = true
	}
}

// answers reads what one word of the file means for the steps of its column.
func (f *mapForm) answers(c *column, word string, n ast.Node) []placed {
	if text, ok := nodeText(n); ok {
		if len(c.places) > 1 {
			f.AddAt(ownfile.LineOf(n), c.name, "the column holds several steps; write {%s: %s} for %s", c.places[0].step.ID, notation.CleanLine(text, 40), ownfile.Quote(word))
			return nil
		}
		if len(c.places) == 0 {
			return nil // said already
		}
		return f.answer(nil, c, 0, n, text)
	}
	var out []placed
	for _, pair := range f.pairs(n, ownfile.Quote(word)) {
		name, _ := nodeText(pair.Key)
		text, _ := nodeText(pair.Value)
		by := -1
		for i, p := range c.places {
			if q, wrong := readPlace(f.m.steps, name); wrong == "" && q.key() == p.key() {
				by = i
			}
		}
		if by < 0 {
			f.AddAt(ownfile.LineOf(pair.Key), c.name, "%s is not among the steps of this column", ownfile.Quote(name))
			continue
		}
		out = f.answer(out, c, by, pair.Value, text)
	}
	return out
}

func (f *mapForm) answer(out []placed, c *column, by int, n ast.Node, text string) []placed {
	a, err := readCell(c.places[by].step, text, c.unit)
	if err != nil {
		f.AddAt(ownfile.LineOf(n), c.name, "%v", err)
		return out
	}
	return append(out, placed{by, a})
}
