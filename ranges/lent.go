package ranges

import (
	"fmt"
	"slices"

	"loosebox/ranges/csvfile"
)

// loan says whose row stands for a class, and why.
type loan struct {
	from Class
	why  string
}

// readLent reads the lent rows. A class with a row of its own cannot be lent one, and the lender must have one.
func (t *Table) readLent(name string) error {
	return builtIn(name, []string{"measure", "class", "from", "why"}, func(records []csvfile.Line, bad *csvfile.FileError) {
		for _, r := range records {
			p, l := pair{Measure(r.Cells[0]), Class(r.Cells[1])}, loan{Class(r.Cells[2]), r.Cells[3]}
			if reason := t.wrongLoan(p, l); reason != "" {
				bad.Add(r.Number, "%s", reason)
				continue
			}
			t.lent[p] = l
		}
	})
}

// wrongLoan says why a row cannot be lent to the class; empty where it can.
func (t *Table) wrongLoan(p pair, l loan) string {
	_, twice := t.lent[p]
	switch {
	case !p.measure.Valid() || !p.class.Valid():
		return "the measure or the class is not known"
	case twice:
		return "the class is lent a row of this measure on an earlier line"
	case t.held(p):
		return "the class has a row of its own: leave this line out"
	case !t.held(pair{p.measure, l.from}):
		return fmt.Sprintf("%q has no row of its own to lend", string(l.from))
	case l.why == "":
		return "the reason is missing"
	}
	return ""
}

// lend is the row as another class is lent it: evidence is common practice at most, PracticeOwn stays.
func (r Row) lend(c Class, l loan) Row {
	r.Class, r.From = c, l.from
	r.Words = "The row of the " + l.from.String() + " is borrowed: " + l.why + " Common practice here. " + r.Words
	for _, limit := range r.limits() {
		for _, word := range []*Evidence{&limit.Evidence, &limit.LowEvidence} {
			if slices.Contains(Tiers(), *word) && !CommonPractice.Carries(*word) {
				*word = CommonPractice
			}
		}
	}
	return r
}
