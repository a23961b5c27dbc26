package ranges

import (
	"maps"
	"slices"
	"strings"
)

// Sources is a list of works, each with the strongest evidence that what was read in it may carry.
type Sources []Source

// Cite joins with "; " the texts of the works that codes names ("a+b"), and gives the weakest of their tiers; false where
// one of them is not in the list.
func (s Sources) Cite(codes string) (text string, tier Evidence, ok bool) {
	var texts []string
	for code := range strings.SplitSeq(codes, "+") {
		i := slices.IndexFunc(s, func(w Source) bool { return w.Code == code })
		if i < 0 {
			return "", "", false
		}
		texts, tier = append(texts, s[i].Text), Weaker(tier, s[i].Tier)
	}
	return strings.Join(texts, "; "), tier, true
}

// Shares counts bounds by their evidence.
type Shares map[Evidence]int

// Tiers counts the bounds of the rows of a class by their evidence (of all classes where c is empty): usual bounds, and
// limits to recheck and to tell. A temperature counts once, in C; a lent row counts for the class it is lent to.
func (t *Table) Tiers(c Class) (usual, limit Shares) {
	usual, limit = Shares{}, Shares{}
	for _, r := range t.Rows() {
		if r.Unit == Fahrenheit || c != "" && r.Class != c {
			continue
		}
		for i, l := range r.limits() {
			into := limit
			if i == 0 {
				into = usual
			}
			for _, side := range []string{SideLow, SideHigh} {
				if _, ok := l.Edge(side); ok {
					into[l.On(side).Evidence]++
				}
			}
		}
	}
	return usual, limit
}

// Sum is how many bounds were counted.
func (s Shares) Sum() int {
	n := 0
	for _, count := range s {
		n += count
	}
	return n
}

// SourceCodes lists the codes of every source held, in order.
func (t *Table) SourceCodes() []string { return slices.Sorted(maps.Keys(t.sources)) }
