package settle

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// AtOnce lists the horses of which two laptops have an exam open, out of visits newest
// first. Both exams stand; the item goes once one of them is closed or voided.
func AtOnce(visits []exam.Visit) []Item {
	var out []Item
	told := map[exam.HorseID]bool{}
	for i, v := range visits {
		h := v.Horse.ID
		if told[h] || v.Closed() {
			continue
		}
		both := []exam.Visit{v}
		for _, o := range visits[i+1:] {
			if o.Horse.ID == h && !o.Closed() && v.OpenWith(o) {
				both = append(both, o)
			}
		}
		if !slices.ContainsFunc(both, func(o exam.Visit) bool { return o.HeldOn() != v.HeldOn() }) {
			continue
		}
		told[h] = true
		out = append(out, Item{
			Kind: exam.UnsettledAtOnce, Visit: v.ID, Horse: h, Name: v.Horse.Name, At: v.OpenedAt, Seqs: []int{}, Text: openAtOnce(both),
		})
	}
	return out
}

func openAtOnce(visits []exam.Visit) string {
	var who []string
	for _, v := range visits {
		who = append(who, v.HeldBy())
	}
	return notation.CleanNote(fmt.Sprintf("%s of this horse are open: %s. Each of them stands. Ask each other what was given.",
		notation.Counted(len(visits), "exam"), strings.Join(who, "; ")))
}
