package exam

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// FoldHorse is a horse as its revisions make it; they are in the order of the record. Each
// line sets the fields in which it differs from what its writer held, and those that it
// settles. Cautions and reactions of all lines are united, and one goes only by a line
// whose writer knew of it. Of any other field that stands which nobody who knew of it
// replaced; where that is more than one value the last stands, and Differ lists them.
// Lines of several horses are those of records that were joined (Joinings.Groups): what
// the records say is united in the same way, as each was written without knowing of the
// others, but for what a record does not say. A line about all of them (HorseLine.Of)
// was written knowing of each. Joined has the records by themselves.
// The error wraps ErrDamaged.
func FoldHorse(lines []HorseLine) (Horse, error) {
	if len(lines) == 0 {
		return Horse{}, fmt.Errorf("nothing was said of a horse: %w", ErrDamaged)
	}
	f := horseFold{lines: lines}
	for i := range lines {
		base, _ := f.horse(func(j int) bool { return f.saw(i, j) })
		f.take(i, base)
	}
	h, differ := f.horse(func(int) bool { return true })
	records := recordsOf(lines)
	if len(differ) == 0 && f.linear() && len(records) == 1 {
		h = lines[len(lines)-1].Horse // lists in the order in which they were left
	}
	h.ID, h.Revision, h.Differ, h.Joined = records[0], len(lines), differ, nil
	if len(records) == 1 {
		return h, nil
	}
	for _, id := range records {
		one, err := FoldHorse(ownLines(lines, id))
		if err != nil {
			return h, err
		}
		h.Joined = append(h.Joined, one)
	}
	return h, nil
}

// recordsOf are the horses that lines are of, the smallest identity first.
func recordsOf(lines []HorseLine) []HorseID {
	var out []HorseID
	for _, l := range lines {
		if !slices.Contains(out, l.Horse.ID) {
			out = append(out, l.Horse.ID)
		}
	}
	slices.Sort(out)
	return out
}

// ownLines are the lines of one record by itself, numbered anew.
func ownLines(lines []HorseLine, id HorseID) []HorseLine {
	var out []HorseLine
	number := map[int]int{}
	for i, l := range lines {
		if l.Horse.ID != id || len(l.Of) > 0 {
			continue
		}
		var missing []int
		for _, n := range l.Unseen {
			if own, ok := number[n]; ok {
				missing = append(missing, own)
			}
		}
		l.Unseen = missing
		out = append(out, l)
		number[i+1] = len(out)
	}
	return out
}

// horseFold is what lines set of a horse.
type horseFold struct {
	lines []HorseLine
	sets  []horseSet
}

// horseSet is a field that a line set, or an item of a list that it added or took away.
type horseSet struct {
	line, field int
	value       any
	gone        bool // the item was taken away
}

// saw says that the writer of a line held an earlier one, and wrote of the same horse as
// it; both count from 0.
func (f *horseFold) saw(line, earlier int) bool {
	return earlier < line && !slices.Contains(f.lines[line].Unseen, earlier+1) && f.lines[line].covers(f.lines[earlier])
}

// covers says that a line is about all the horses that another is about.
func (l HorseLine) covers(o HorseLine) bool {
	if len(l.Of) == 0 {
		return len(o.Of) == 0 && o.Horse.ID == l.Horse.ID
	}
	for _, id := range o.about() {
		if !slices.Contains(l.Of, id) {
			return false
		}
	}
	return true
}

func (l HorseLine) about() []HorseID {
	if len(l.Of) > 0 {
		return l.Of
	}
	return []HorseID{l.Horse.ID}
}

func (f *horseFold) linear() bool {
	return !slices.ContainsFunc(f.lines, func(l HorseLine) bool { return len(l.Unseen) > 0 })
}

// take notes what a line sets beside what its writer held.
func (f *horseFold) take(line int, base Horse) {
	now, old := reflect.ValueOf(f.lines[line].Horse), reflect.ValueOf(base)
	for _, field := range horseFields() {
		a, b := old.Field(field).Interface(), now.Field(field).Interface()
		if before, ok := a.([]string); ok {
			after, _ := b.([]string)
			for _, item := range Beyond(after, before) {
				f.sets = append(f.sets, horseSet{line, field, item, false})
			}
			for _, item := range Beyond(before, after) {
				f.sets = append(f.sets, horseSet{line, field, item, true})
			}
		} else if !sameOfHorse(a, b) || slices.Contains(f.lines[line].Settles, fieldName(field)) {
			f.sets = append(f.sets, horseSet{line, field, b, false})
		}
	}
}

// Beyond returns the elements of list that others does not have.
func Beyond(list, others []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(s string) bool { return slices.Contains(others, s) })
}

// United returns list with the elements of others that it lacks added.
func United(list, others []string) []string {
	return append(slices.Clone(list), Beyond(others, list)...)
}

// horse is what some of the lines make of the horse, and where they differ.
func (f *horseFold) horse(held func(line int) bool) (Horse, []HorseDispute) {
	var h Horse
	var differ []HorseDispute
	for _, field := range horseFields() {
		standing := f.standing(field, held)
		if len(standing) == 0 {
			continue
		}
		to := reflect.ValueOf(&h).Elem().Field(field)
		if list, ok := to.Interface().([]string); ok {
			for _, s := range standing {
				if text, _ := s.value.(string); !slices.Contains(list, text) {
					list = append(list, text)
				}
			}
			to.Set(reflect.ValueOf(list))
			continue
		}
		standing = f.said(standing)
		last := standing[len(standing)-1].value
		to.Set(reflect.ValueOf(last))
		if slices.ContainsFunc(standing, func(s horseSet) bool { return !sameOfHorse(s.value, last) }) {
			differ = append(differ, f.dispute(field, standing))
		}
	}
	return h, differ
}

// said leaves out a birth or a sex that is not known where another record knows it.
func (f *horseFold) said(standing []horseSet) []horseSet {
	known := slices.DeleteFunc(slices.Clone(standing), func(s horseSet) bool {
		switch v := s.value.(type) {
		case Birth:
			return v.Precision == "" || v.Precision == BornUnknown
		case Sex:
			return v == "" || v == SexUnknown
		}
		return false
	})
	if len(known) == 0 || len(recordsOf(f.lines)) == 1 {
		return standing
	}
	return known
}

func (f *horseFold) dispute(field int, standing []horseSet) HorseDispute {
	d := HorseDispute{Field: fieldName(field)}
	for _, s := range standing {
		l := f.lines[s.line]
		d.Said = append(d.Said, HorseValue{horseText(s.value), Signed{At: l.At, By: l.By, Seq: s.line + 1}})
	}
	return d
}

// standing are the values of a field, or the items of a list, that none of the lines
// replaced or took away knowing of them.
func (f *horseFold) standing(field int, held func(int) bool) []horseSet {
	var out []horseSet
	list := reflect.TypeFor[Horse]().Field(field).Type.Kind() == reflect.Slice
	for _, s := range f.sets {
		if s.field != field || s.gone || !held(s.line) {
			continue
		}
		if !slices.ContainsFunc(f.sets, func(o horseSet) bool {
			return o.field == field && held(o.line) && f.saw(o.line, s.line) && (!list || o.gone && o.value == s.value)
		}) {
			out = append(out, s)
		}
	}
	return out
}

// horseFields are the fields of a Horse that people write, by number.
func horseFields() []int {
	t := reflect.TypeFor[Horse]()
	var out []int
	for i := range t.NumField() {
		if name := t.Field(i).Name; name != "ID" && name != "Revision" && name != "Differ" && name != "Settles" && name != "Joined" {
			out = append(out, i)
		}
	}
	return out
}

func fieldName(field int) string {
	name, _, _ := strings.Cut(reflect.TypeFor[Horse]().Field(field).Tag.Get("json"), ",")
	return name
}
