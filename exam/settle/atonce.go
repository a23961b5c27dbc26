package settle

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// AtOnce lists the horses of which two laptops have an exam open, and those of which two had
// one open at the same time and nobody looked at both yet, out of visits newest first. All of them stand.
func AtOnce(visits []exam.Visit, now time.Time) []Matter {
	var open, closed []exam.Visit
	for _, v := range visits {
		if v.Closed() {
			closed = append(closed, v)
		} else {
			open = append(open, v)
		}
	}
	return append(together(open, exam.UnsettledAtOnce, now), together(closed, exam.UnsettledCompare, now)...)
}

// together makes an item of each visit, and of those that were open with it on another laptop.
func together(visits []exam.Visit, kind exam.UnsettledKind, now time.Time) []Matter {
	var out []Matter
	told := map[exam.VisitID]bool{}
	for i, v := range visits {
		if told[v.ID] {
			continue
		}
		all := append([]exam.Visit{v}, OpenBeside(v, visits[i+1:])...)
		if len(all) == 1 || !slices.ContainsFunc(all, func(o exam.Visit) bool { return !o.Compared() }) {
			continue
		}
		item := Matter{Kind: kind, Visit: v.ID, Horse: v.Horse.ID, Name: v.Horse.Name, At: v.OpenedAt, Seqs: []int{}}
		for _, o := range all {
			told[o.ID] = true
			item.Visits = append(item.Visits, o.ID)
		}
		item.Text = atOnce(all, kind, now)
		out = append(out, item)
	}
	return out
}

// OpenBeside are those visits of the same horse that were open with a visit on another laptop.
func OpenBeside(v exam.Visit, visits []exam.Visit) []exam.Visit {
	return slices.DeleteFunc(slices.Clone(visits), func(o exam.Visit) bool {
		return o.Horse.ID != v.Horse.ID || !v.OpenWith(o) || o.HeldOn() == v.HeldOn()
	})
}

func atOnce(visits []exam.Visit, kind exam.UnsettledKind, now time.Time) string {
	var who []string
	for _, v := range visits {
		who = append(who, v.HeldBy(now))
	}
	said, todo := "are open", "Ask each other what was given."
	if kind == exam.UnsettledCompare {
		said, todo = "were open at once", "Look at both: what was found, and what was given."
	}
	return notation.CleanNote(fmt.Sprintf("%s of this horse %s: %s. Each of them stands. %s",
		notation.Counted(len(visits), "exam"), said, strings.Join(who, "; "), todo))
}

// Compared are the notes which say that somebody looked at a visit and at those that were open
// with it on another laptop; none while one of them is open, or where each of them was looked at.
func Compared(v exam.Visit, beside []exam.Visit, by, words string, at time.Time) []exam.Entry {
	var out []exam.Entry
	if len(beside) == 0 {
		return nil
	}
	for _, o := range append([]exam.Visit{v}, beside...) {
		if !o.Closed() {
			return nil
		}
		if !o.Compared() {
			out = append(out, o.Compare(by, words, at))
		}
	}
	return out
}
