package exam

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// A horse has at most one open visit on each laptop. Two people in two yards without a network can
// both examine it: both visits count, and each shows that there was another.

// GoesOn returns the visit that an exam on this laptop continues: the newest of a horse's visits,
// which come newest first, that is open and that no other laptop holds; false for none.
func GoesOn(visits []Visit) (Visit, bool) {
	for _, v := range visits {
		if !v.Closed() && !v.Elsewhere {
			return v, true
		}
	}
	return Visit{}, false
}

// OpenElsewhere says of a horse's visits who has which of them open on other laptops; empty
// for none.
func OpenElsewhere(visits []Visit, now time.Time) string {
	var said []string
	for _, v := range visits {
		if text := v.OpenElsewhere(now); text != "" {
			said = append(said, text)
		}
	}
	return strings.Join(said, " ")
}

// OpenWith says that two visits were open at the same time. Visits that hold nothing but
// past doses, and voided ones, are no exams.
func (v Visit) OpenWith(o Visit) bool {
	if v.ID == o.ID || !v.Stands() || !o.Stands() || v.OnlyPapers() || o.OnlyPapers() {
		return false
	}
	return !v.overBefore(o) && !o.overBefore(v)
}

// overBefore says that the visit was closed when another one began.
func (v Visit) overBefore(o Visit) bool { return v.ClosedAt != nil && !v.ClosedAt.After(o.OpenedAt) }

// openingSeq is the number of a visit's first line. A line of a closed visit that settles it says
// that somebody looked at this exam and at those that were open at the same time.
const openingSeq = 1

// Compared says that somebody looked at the exam and at those that were open with it.
func (v Visit) Compared() bool { return slices.Contains(v.Settled, openingSeq) }

// Compare is the note by which somebody says so.
func (v Visit) Compare(by, words string, at time.Time) Entry {
	return Entry{Visit: v.ID, Kind: EntryNote, At: at, By: by, Note: words, Reason: words, Settles: []int{openingSeq}}
}

// AtOnce lists those of a horse's visits, newest first, that are closed and were open at the same
// time as another one, as long as one of the two is not compared. Visits of which apart says
// no are of one laptop, and do not count.
func AtOnce(visits []Visit, apart func(a, b VisitID) bool) []VisitID {
	found := map[VisitID]bool{}
	var latest time.Time // at which an earlier one was closed
	for i, v := range slices.Backward(visits) {
		if !v.Closed() {
			continue
		}
		if latest.After(v.OpenedAt) {
			for _, o := range visits[i+1:] {
				if o.Closed() && !(v.Compared() && o.Compared()) && v.OpenWith(o) && apart(v.ID, o.ID) {
					found[v.ID], found[o.ID] = true, true
				}
			}
		}
		if v.ClosedAt.After(latest) {
			latest = *v.ClosedAt
		}
	}
	var out []VisitID
	for _, v := range visits {
		if found[v.ID] {
			out = append(out, v.ID)
		}
	}
	return out
}

// HeldOn is the laptop that puts the needles in; empty for this one.
func (v Visit) HeldOn() string {
	for _, l := range v.Laptops {
		if l.Holds && !l.Own {
			return l.Called()
		}
	}
	return ""
}

// HeldBy says who has the visit, on which laptop, and from when to when by the clock of now.
func (v Visit) HeldBy(now time.Time) string {
	on := v.HeldOn()
	if on == "" {
		on = "this laptop"
	}
	const hour, day = "15:04", "2 Jan 15:04"
	from := v.OpenedAt.In(now.Location())
	text := fmt.Sprintf("%s on %s, %s", notation.CleanLine(v.HolderName(), 40), on, from.Format(day))
	if v.ClosedAt == nil {
		return text + ", not finished"
	}
	end := v.ClosedAt.In(now.Location())
	if notation.SameDay(end, from) {
		return text + " to " + end.Format(hour)
	}
	return text + " to " + end.Format(day)
}
