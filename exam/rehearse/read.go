package rehearse

import (
	"crypto/sha256"
	"encoding/hex"
	"io"
	"slices"

	"github.com/goccy/go-yaml/ast"

	"loosebox/exam"
	"loosebox/exam/ownfile"
	"loosebox/ranges"
)

// Columns that the screens have room for.
const (
	maxTitle = 30
	maxAbout = 72
	maxText  = 200
)

// FileError says why a case was refused, line by line. Nothing of it was taken.
type FileError = ownfile.FileError

// caseFile says what a case file is and bounds it.
func caseFile() ownfile.FileKind {
	return ownfile.FileKind{
		Noun: "case", Pages: "some pages of text", Begins: "begins with keys such as name: and truth:",
		Bytes: 256 << 10, Lines: 600, Columns: 400, Flow: 1000,
	}
}

// ReadCase reads a case that a teacher wrote in YAML; the built-in ones under cases are the pattern. Keys: name, title,
// about, reason, routine, horse (name, kind, sex, age, breed, colour, markings, place, cautions), temper, states,
// pause-every, murmur, milestones (minutes from birth), truth, seen, excused, find, tell, teaching, variants (several truths, one of which is drawn by seed). In truth a place is step or step:site, its answer what would
// be typed at it, or a span such as 60 to 70 to draw from. A file that cannot be used gives a *FileError that names
// every line to put right; file stands in the messages only.
func ReadCase(r io.Reader, file string, table *exam.Steps, held *ranges.Table) (Case, error) {
	return readCase(r, file, table, held, nil)
}

// Existing is what is there beside a teacher's case: routines that it may name, and cases whose names are taken.
type Existing struct {
	Routines []exam.Routine
	Cases    []Case
}

// ReadOwnCase reads a teacher's case like ReadCase, and refuses the name of a case that is there already, a routine that is
// not, and a truth that cannot be of the animal's sex, which no screen offers.
func ReadOwnCase(r io.Reader, file string, table *exam.Steps, held *ranges.Table, known Existing) (Case, error) {
	return readCase(r, file, table, held, &known)
}

func readCase(r io.Reader, file string, table *exam.Steps, held *ranges.Table, known *Existing) (Case, error) {
	e := ownfile.New(file, caseFile())
	data, err := ownfile.Read(r, e)
	if err != nil {
		return Case{}, err
	}
	if err := e.OrNil(); err != nil {
		return Case{}, err
	}
	sum := sha256.Sum256(data)
	top := ownfile.Parse(e, data)
	if top == nil {
		return Case{}, e.OrNil()
	}
	f := &form{FileError: e, table: table, held: held, known: known, c: Case{
		Temper: Calm, MurmurIn: MurmurEarly, Digest: hex.EncodeToString(sum[:])[:12],
		Text:  string(data),
		Given: map[exam.Key]CaseAnswer{}, Seen: map[exam.Key]string{}, Excused: map[exam.Key]exam.Reason{},
	}}
	f.read(top)
	if err := e.OrNil(); err != nil {
		return Case{}, err
	}
	return f.c, nil
}

// form reads the parsed file into a case and keeps what is wrong with it.
type form struct {
	*ownfile.FileError
	table *exam.Steps
	held  *ranges.Table
	known *Existing // nil where nothing is asked of name, routine and sex
	c     Case
	given *ast.MappingValueNode
	find  *ast.MappingValueNode
	tell  *ast.MappingValueNode

	variants *ast.MappingValueNode
}

func (f *form) read(top *ast.MappingNode) {
	seen := map[string]bool{}
	for _, pair := range top.Values {
		key, _ := ownfile.TextOf(pair.Key)
		seen[key] = true
		f.topKey(key, pair)
	}
	for _, key := range []string{"name", "title", "about", "reason", "routine", "horse", "teaching"} {
		if !seen[key] {
			f.Add(0, "no %s: key; a case needs one", key)
		}
	}
	// The truth after the horse, what is to be found after the truth, wherever in the file they stand.
	if f.given != nil {
		f.truth(f.given)
	}
	f.c.Find, f.c.Tell = f.listed(f.find), f.listed(f.tell)
	f.readVariants()
}

func (f *form) topKey(key string, pair *ast.MappingValueNode) {
	switch key {
	case "name":
		f.c.Name = f.name(pair)
	case "title":
		f.c.Title = f.text(pair, maxTitle)
	case "about":
		f.c.About = f.text(pair, maxAbout)
	case "reason":
		f.c.Reason = f.text(pair, maxAbout)
	case "routine":
		f.c.Routine = f.routine(pair)
	case "horse":
		f.horse(pair)
	case "temper":
		f.c.Temper = oneOf(f, pair, Tempers())
	case "states":
		for _, text := range f.texts(pair) {
			f.c.States = append(f.c.States, f.state(pair, text))
		}
	case "pause-every":
		f.c.PauseEvery = f.whole(pair, 3, 6)
	case "murmur":
		f.c.MurmurIn = oneOf(f, pair, MurmurTimes())
	case "truth":
		f.given = pair
	case "milestones":
		f.milestones(pair)
	case "seen":
		f.ownSights(pair)
	case "excused":
		f.excused(pair)
	case "find":
		f.find = pair
	case "tell":
		f.tell = pair
	case "teaching":
		f.teaching(pair)
	case "variants":
		f.variants = pair
	default:
		f.Add(ownfile.LineOf(pair.Key), "%s is no key of a case", ownfile.Quote(key))
	}
}

func (f *form) state(pair *ast.MappingValueNode, text string) exam.State {
	if !slices.Contains(exam.States(), exam.State(text)) {
		f.Add(ownfile.LineOf(pair.Key), "%s is no state; there are %s", ownfile.Quote(text), list(exam.States()))
	}
	return exam.State(text)
}

// oneOf reads one word of a list.
func oneOf[T ~string](f *form, pair *ast.MappingValueNode, words []T) T {
	text, ok := ownfile.TextOf(pair.Value)
	if !ok || !slices.Contains(words, T(text)) {
		key, _ := ownfile.TextOf(pair.Key)
		f.Add(ownfile.LineOf(pair.Key), "%s: takes one of %s", key, list(words))
		return words[0]
	}
	return T(text)
}
