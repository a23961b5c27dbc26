package intake

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"loosebox/exam/ownfile"
)

// HorseName is a name of a horse in a sheet or in the record.
type HorseName struct {
	Text  string
	Line  int // of its first row; 0 of the record
	Times int // how many rows have it
	Owner string
	Chip  string
}

// Spelling is a name that may be another one misspelled. Rare has fewer rows.
type Spelling struct{ Rare, Often HorseName }

// Ask is the question that only somebody who knows the horses can answer.
func (s Spelling) Ask() string {
	where := "of the record"
	if s.Often.Line > 0 {
		where = fmt.Sprintf("of line %d", s.Often.Line)
	}
	return fmt.Sprintf("is %s the horse %s %s in another spelling? Nothing in the file settles it: the map says horses: {%s: %s} for one horse, {%s: %s} for two",
		s.Rare.Text, s.Often.Text, where, yamlText(s.Rare.Text), yamlText(s.Often.Text), yamlText(s.Rare.Text), yamlText(s.Rare.Text))
}

// Spellings finds names that may be one horse: two changes of a letter apart at the most, one in a short name, and not
// in a digit. Chip numbers or owners that differ say that they are two. Answered names are not asked about.
func Spellings(names []HorseName, answered func(string) bool) []Spelling {
	slices.SortStableFunc(names, func(a, b HorseName) int { // the first of two is the one that is kept
		if (a.Line == 0) != (b.Line == 0) {
			if a.Line == 0 {
				return -1
			}
			return 1
		}
		return b.Times - a.Times
	})
	var out []Spelling
	near := map[string][]int{} // a name without one of its letters -> names
	for i, n := range names {
		lower := []rune(strings.ToLower(n.Text))
		asked := map[int]bool{}
		for _, key := range without(lower) {
			for _, j := range near[key] {
				o := names[j]
				if asked[j] || n.Line == 0 && o.Line == 0 || answered(n.Text) || answered(o.Text) || !maybeOneName(lower, []rune(strings.ToLower(o.Text))) {
					continue
				}
				if n.Chip != "" && o.Chip != "" && n.Chip != o.Chip || n.Owner != "" && o.Owner != "" && !strings.EqualFold(n.Owner, o.Owner) {
					continue
				}
				asked[j] = true
				if len(asked) == 1 { // one question a name
					out = append(out, Spelling{Rare: n, Often: o})
				}
			}
			near[key] = append(near[key], i)
		}
	}
	return out
}

// without lists a text and every text that lacks one of its letters.
func without(text []rune) []string {
	if len(text) > 40 {
		text = text[:40]
	}
	out := []string{string(text)}
	for i := range text {
		out = append(out, string(text[:i])+string(text[i+1:]))
	}
	return out
}

// maybeOneName says that two names that differ may be one in two spellings.
func maybeOneName(a, b []rune) bool {
	if slices.Equal(a, b) || min(len(a), len(b)) < 3 || !slices.Equal(digits(a), digits(b)) {
		return false
	}
	d := ownfile.Changes(a, b)
	if d == 2 && len(a) == len(b) && sameLetters(a, b) { // two letters changed about are one slip
		d = 1
	}
	return d == 1 || d == 2 && min(len(a), len(b)) > 7
}

func digits(text []rune) []rune {
	var out []rune
	for _, r := range text {
		if unicode.IsDigit(r) {
			out = append(out, r)
		}
	}
	return out
}

func sameLetters(a, b []rune) bool {
	x, y := slices.Clone(a), slices.Clone(b)
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// Names lists the horses of the exams, each name once.
func (r *Result) Names() []HorseName {
	at := map[string]int{}
	var out []HorseName
	for _, x := range r.Exams {
		key := strings.ToLower(x.Horse.Name)
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, HorseName{Text: x.Horse.Name, Line: x.Line, Owner: x.Horse.Owner, Chip: x.Horse.Chip})
		}
		out[i].Times++
	}
	return out
}

// Answered says that the map says whose a name is.
func (m *Map) Answered(name string) bool {
	_, ok := m.spelled[strings.ToLower(name)]
	return ok
}

// Doubt keeps the rows of the rarer names apart, each with the question.
func (r *Result) Doubt(list []Spelling) {
	rare := map[string]Spelling{}
	for _, s := range list {
		rare[strings.ToLower(s.Rare.Text)] = s
	}
	if len(rare) == 0 {
		return
	}
	r.Spellings = append(r.Spellings, list...)
	kept := r.Exams[:0]
	for _, x := range r.Exams {
		s, ok := rare[strings.ToLower(x.Horse.Name)]
		if !ok {
			kept = append(kept, x)
			continue
		}
		row := r.a.s.rows[x.row]
		r.Bad = append(r.Bad, r.bad(row, []Problem{{Line: row.line, Column: r.a.nameColumn(), What: s.Ask()}})...)
	}
	r.Exams = kept
	r.order()
}

func (a *applied) nameColumn() string {
	if i, ok := a.at[roleName]; ok {
		return a.s.head[i]
	}
	return ""
}
