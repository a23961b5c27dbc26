package intake

import (
	"io"
	"time"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// ReadMap reads a mapping file in YAML:
//
//	file: {charset: macintosh, sheet: Visits}  # where the file does not say it
//	horse:
//	  kind: pony                 # of every horse, where no column says so
//	visit:
//	  by: Sue Hart
//	  date: 2019-05-04           # of every visit, where no column says so
//	  routine: tpr-recheck
//	  reason: yard round
//	  note: copied from the yard book
//	horses: {Brambel: Bramble, Della: Della}   # one horse in two spellings; a horse of its own
//	columns:                     # every column of the file, once
//	  Name: horse name
//	  Date: {is: date, format: DD/MM/YYYY}
//	  Temp: {step: temp.rectal, unit: F}
//	  Gut left upper: gut.sounds:left upper
//	  Gums:
//	    step: gum.colour
//	    values: {P: pink, W: white, "?": not done}
//	    else: as written
//	  TPR: {steps: [temp.rectal, heart.rate, breath.rate], split: /}
//	  Look:
//	    steps: [demeanour, pain.signs]
//	    values:
//	      well: {demeanour: bright, pain.signs: none}
//	      sore: {pain.signs: mild}
//	  Remarks: {note: remarks}
//	  Invoice: ignore
//
// A column holds a step, or is one of: ignore, note, horse name, kind, sex,
// breed, colour, owner, place, chip, birth, age, age class, date, time, by, reason, at rest.
// A file with one finding a row has columns that are the step, the value and, where
// it needs them, site and unit; rows that agree in all others are one visit.
//
// values translates the words of the file ("Gut: ++" is a word of the value column beside one test): to a choice, a number with its unit,
// a bound such as "3 s or more", or "not done: reason". else says what any other word is:
// "as written" keeps it beside a step not done, "ignore" leaves it out. blank: as above is
// for a column that names something once for the rows below it. unit: C or F takes each number
// in the unit in which it is possible. weights: take or leave out says what a weight is that no grown
// animal of its kind has. In the place of a format, a unit or a split, ask leaves a question open, and no exam
// comes in before it is answered.
//
// A file that cannot be used gives a *FileError that names every line to put right.
func ReadMap(r io.Reader, name string, steps *exam.Steps) (Map, error) {
	e := newFileError(name)
	top, err := readYAML(r, e)
	if err != nil {
		return Map{}, err
	}
	if top == nil {
		return Map{}, e.OrNil()
	}
	f := &mapForm{FileError: e, m: Map{steps: steps, named: map[string]int{}, spelled: map[string]string{}}}
	f.read(top)
	if err := e.OrNil(); err != nil {
		return Map{}, err
	}
	return f.m, nil
}

// mapForm reads the parsed file into a Map and keeps what is wrong with it.
type mapForm struct {
	*FileError
	m Map
}

func (f *mapForm) read(top *ast.MappingNode) {
	columnsAt := 0
	for _, pair := range top.Values {
		key, _ := nodeText(pair.Key)
		line := ownfile.LineOf(pair.Key)
		switch key {
		case "about":
			f.text(pair.Value, "about")
		case "file":
			f.file(pair.Value)
		case "horses":
			f.spellings(pair.Value)
		case "horse":
			f.horse(pair.Value)
		case "visit":
			f.visit(pair.Value)
		case "columns":
			columnsAt = line
			f.columns(pair.Value)
		default:
			f.Add(line, "%s is no key of a mapping; it has about, file, horse, visit, horses, columns%s", ownfile.Quote(key), orMeant(key, []string{"about", "file", "horse", "visit", "horses", "columns"}))
		}
	}
	if columnsAt == 0 {
		f.Add(0, "no columns: key; it says what every column of the file means")
		return
	}
	f.whole()
}

// pairs gives the key and value of every line of a mapping; a single line is
// one too. Nothing else is.
func (f *mapForm) pairs(n ast.Node, what string) []*ast.MappingValueNode {
	switch n := n.(type) {
	case *ast.MappingNode:
		return n.Values
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{n}
	}
	f.Add(ownfile.LineOf(n), "%s is a list of keys with values", what)
	return nil
}

func (f *mapForm) text(n ast.Node, what string) string {
	text, ok := nodeText(n)
	if text = notation.CleanNote(text); !ok || text == "" {
		f.Add(ownfile.LineOf(n), "%s needs a text", what)
	}
	return text
}

func (f *mapForm) horse(n ast.Node) {
	for _, pair := range f.pairs(n, "horse") {
		key, _ := nodeText(pair.Key)
		switch key {
		case "kind":
			kind, err := readKind(f.text(pair.Value, key))
			if err != nil {
				f.Add(ownfile.LineOf(pair.Value), "%v", err)
			}
			f.m.horseKind = kind
		case "place":
			f.m.horsePlace = f.text(pair.Value, key)
		case "owner":
			f.m.horseOwner = f.text(pair.Value, key)
		default:
			f.Add(ownfile.LineOf(pair.Key), "%s is nothing that is the same for every horse; kind, place and owner can be", ownfile.Quote(key))
		}
	}
}

func (f *mapForm) visit(n ast.Node) {
	for _, pair := range f.pairs(n, "visit") {
		key, _ := nodeText(pair.Key)
		switch key {
		case "by":
			f.m.by = f.text(pair.Value, key)
		case "routine":
			f.m.routine = f.text(pair.Value, key)
		case "reason":
			f.m.reason = f.text(pair.Value, key)
		case "note":
			f.m.note = f.text(pair.Value, key)
		case "date":
			f.m.date = f.text(pair.Value, key)
			if _, err := readDate(f.m.date, "", dayForm{}, time.UTC); err != nil {
				f.Add(ownfile.LineOf(pair.Value), "%v", err)
			}
		default:
			f.Add(ownfile.LineOf(pair.Key), "%s is nothing that is the same for every visit; by, date, routine, reason and note can be", ownfile.Quote(key))
		}
	}
}

// whole checks what the columns must say together.
func (f *mapForm) whole() {
	roles := map[role]column{}
	places := map[exam.Key]column{}
	for _, c := range f.m.columns {
		if other, ok := roles[c.role]; ok && c.role != roleSteps && c.role != roleNote && c.role != roleIgnore {
			f.AddAt(c.line, c.name, "is the %s, and so is column %s in line %d", c.role, ownfile.Quote(other.name), other.line)
		}
		roles[c.role] = c
		for _, p := range c.places {
			if other, ok := places[p.key()]; ok {
				f.AddAt(c.line, c.name, "holds %s, and so does column %s in line %d", placeWords(p), ownfile.Quote(other.name), other.line)
			}
			places[p.key()] = c
		}
	}
	if len(f.Problems) > 0 {
		return // what is missing may be what was not understood
	}
	need := func(r role, given bool, how string) {
		if _, ok := roles[r]; !ok && !given {
			f.Add(0, "nothing says %s", how)
		}
	}
	need(roleName, false, "which horse it was: one column is the horse name")
	need(roleKind, f.m.horseKind != "", "what kind of animal: a column is the kind, or horse: has kind: horse")
	need(roleDate, f.m.date != "", "when the exam was: a column is the date, or visit: has date: 2019-05-04")
	need(roleBy, f.m.by != "", "who examined: a column is by, or visit: has by: with a name")
	_, step := roles[roleStep]
	_, value := roles[roleValue]
	switch {
	case step != value:
		f.Add(0, "a file with one finding a row has a column that is the step and one that is the value")
	case step && len(places) > 0:
		f.Add(0, "a file has a column that is the step, or columns that are steps; not both")
	case !step && len(places) == 0:
		f.Add(0, "no column holds a step")
	}
}

func placeWords(p place) string {
	if p.site == exam.NoSite {
		return string(p.step.ID)
	}
	return string(p.step.ID) + ":" + string(p.site)
}
