package settle

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Double is two horses of a list that may be one.
type Double struct {
	One, Other exam.Horse // the smaller identity first
	Because    []string   // what they share, in words
}

// Why is what they share, in one sentence.
func (d Double) Why() string {
	return "They have the same " + strings.Join(d.Because, " and the same ") + "."
}

// Doubles proposes which horses of a list were entered twice: by chip, by UELN, by name and
// owner where the births agree as far as both are known. Horses of which somebody said that
// they are two are not proposed again.
func Doubles(list []exam.Found, said exam.Joinings) []Double {
	reasons := map[[2]int][]string{}
	for _, by := range []struct {
		what string
		keys func(exam.Horse) []string
	}{
		{"chip", each(func(h exam.Horse) string { return plain(h.Chip) })},
		{"UELN", each(func(h exam.Horse) string { return plain(h.UELN) })},
		{"name and owner", each(nameAndOwner)},
	} {
		first := map[string][]int{}
		for i, f := range list {
			for _, k := range by.keys(f.Horse) {
				for _, j := range first[k] {
					pair := [2]int{j, i}
					if j == i || slices.Contains(reasons[pair], by.what) {
						continue
					}
					reasons[pair] = append(reasons[pair], by.what)
				}
				first[k] = append(first[k], i)
			}
		}
	}
	var out []Double
	for pair, because := range reasons {
		a, b := list[pair[0]].Horse, list[pair[1]].Horse
		if b.ID < a.ID {
			a, b = b, a
		}
		if i := slices.Index(because, "name and owner"); i >= 0 {
			birth, agree := births(a, b)
			if !agree {
				because = slices.Delete(because, i, i+1)
			} else if birth {
				because[i] = "name, owner and birth date"
			}
		}
		if len(because) > 0 && !apart(a, b, said) {
			out = append(out, Double{a, b, because})
		}
	}
	slices.SortFunc(out, func(x, y Double) int {
		return cmp.Or(cmp.Compare(x.One.Name, y.One.Name), cmp.Compare(x.One.ID, y.One.ID), cmp.Compare(x.Other.ID, y.Other.ID))
	})
	return out
}

// each are what the records of a horse give, without what is empty.
func each(of func(exam.Horse) string) func(exam.Horse) []string {
	return func(h exam.Horse) []string {
		var out []string
		for _, r := range h.Records() {
			if k := of(r); k != "" && !slices.Contains(out, k) {
				out = append(out, k)
			}
		}
		return out
	}
}

// plain leaves letters and digits of a number, in capitals.
func plain(text string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' {
			return r
		}
		return -1
	}, strings.ToUpper(text))
}

func nameAndOwner(h exam.Horse) string {
	name, owner := strings.Fields(strings.ToLower(h.Name)), strings.Fields(strings.ToLower(h.Owner))
	if len(name) == 0 || len(owner) == 0 {
		return ""
	}
	return strings.Join(name, " ") + "\n" + strings.Join(owner, " ")
}

// births says whether two births are both known, and whether they can be the same.
func births(a, b exam.Horse) (known, agree bool) {
	form := map[exam.BirthPrecision]string{
		exam.BornMinute: time.DateOnly, exam.BornDay: time.DateOnly, exam.BornMonth: "2006-01", exam.BornYear: "2006",
	}
	x, y := a.Birth, b.Birth
	fx, okX := form[x.Precision]
	fy, okY := form[y.Precision]
	switch {
	case okX && okY:
		f := fx
		if len(fy) < len(f) {
			f = fy
		}
		return true, x.At.Format(f) == y.At.Format(f)
	case (okX || x.Precision == exam.BornEstimated) && (okY || y.Precision == exam.BornEstimated):
		d := x.At.Sub(y.At).Abs()
		return true, d < 3*366*24*time.Hour // an age by the teeth is good to some years
	case x.Precision == exam.BornFoal && y.Precision == exam.BornAdult, x.Precision == exam.BornAdult && y.Precision == exam.BornFoal:
		return true, false
	}
	return false, true
}

// apart says that somebody said of any two records that they are two horses.
func apart(a, b exam.Horse, said exam.Joinings) bool {
	for _, x := range a.Records() {
		for _, y := range b.Records() {
			if said.Told(x.ID, y.ID) {
				return true
			}
		}
	}
	return false
}

// ofDoubles are the items of horses that may be one.
func ofDoubles(list []Double) []Matter {
	var out []Matter
	for _, d := range list {
		at := ""
		if d.Other.Place != "" {
			at = ", " + d.Other.Place
		}
		out = append(out, Matter{
			Kind: exam.UnsettledDouble, Horse: d.One.ID, Other: d.Other.ID, Name: d.One.Name, Seqs: []int{},
			Text: notation.CleanNote(fmt.Sprintf("%s and %s%s may be one horse. %s", d.One.Name, d.Other.Name, at, d.Why())),
		})
	}
	return out
}

// Pair is what two horses, side by side, say of one thing.
type Pair struct {
	Label, One, Other string
	Differ            bool // both say something, and not the same; lists are united and never differ
}

// Beside sets two horses, or two records of one, side by side; what neither says is left out.
func Beside(one, other exam.Horse) []Pair {
	born := func(h exam.Horse) string {
		if h.Birth.Precision == exam.BornUnknown || h.Birth.Precision == "" {
			return ""
		}
		return h.Birth.Show()
	}
	list := func(s []string) string { return strings.Join(s, ", ") }
	yes := func(b bool) string {
		if b {
			return "yes"
		}
		return ""
	}
	sex := func(h exam.Horse) string {
		if h.Sex == exam.SexUnknown {
			return ""
		}
		return h.Sex.String()
	}
	var out []Pair
	for _, f := range []struct {
		label string
		of    func(exam.Horse) string
	}{
		{"name", func(h exam.Horse) string { return h.Name }},
		{"chip", func(h exam.Horse) string { return h.Chip }},
		{"UELN", func(h exam.Horse) string { return h.UELN }},
		{"kind", func(h exam.Horse) string { return h.Kind.String() }},
		{"sex", sex},
		{"in foal", func(h exam.Horse) string { return yes(h.InFoal) }},
		{"birth date", born},
		{"breed", func(h exam.Horse) string { return h.Breed }},
		{"color", func(h exam.Horse) string { return h.Colour }},
		{"markings", func(h exam.Horse) string { return h.Markings }},
		{"owner", func(h exam.Horse) string { return h.Owner }},
		{"location", func(h exam.Horse) string { return h.Place }},
		{"cautions", func(h exam.Horse) string { return list(h.Cautions) }},
		{"reactions", func(h exam.Horse) string { return list(h.Reactions) }},
	} {
		a, b := notation.CleanLine(f.of(one), 0), notation.CleanLine(f.of(other), 0)
		if a != "" || b != "" {
			out = append(out, Pair{f.label, a, b, a != "" && b != "" && !strings.EqualFold(a, b) && f.label != "cautions" && f.label != "reactions"})
		}
	}
	return out
}

// OnlyJoined is what a joined horse says and none of its records does: it was saved while
// they were one, and counts for none of them once they are parted.
func OnlyJoined(h exam.Horse) []string {
	var out []string
	for _, f := range Beside(h, exam.Horse{}) {
		said := func(r exam.Horse) bool {
			for _, o := range Beside(h, r) {
				if o.Label == f.Label {
					return !o.Differ && o.Other != ""
				}
			}
			return false
		}
		if f.One != "" && f.Label != "cautions" && f.Label != "reactions" && !slices.ContainsFunc(h.Joined, said) {
			out = append(out, f.Label+" "+f.One)
		}
	}
	return out
}
