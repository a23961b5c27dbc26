package nav

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Unfinished is what keeps a visit open: a needle that went in and was not recorded as removed, or a running watch. It
// returns the screen where that is answered and a sentence with times as of now; false where the visit may be closed.
func Unfinished(v exam.Visit, now time.Time) (to Address, why string, ok bool) {
	if to, why, ok = NeedleIn(v, now); ok {
		return to, why, true
	}
	if open := v.Watching(); len(open) > 0 {
		to.Screen, to.Number = Watch, open[0].Injection
		return to, fmt.Sprintf("The horse is under observation after injection %d until %s.", to.Number, notation.Clock(open[0].Ends(), now)), true
	}
	return to, "", false
}

// Unwatched is the first injection whose watch was neither started nor declined: the screen where that is answered, and a
// sentence; false where there is none. It does not keep the visit open, but closing asks about it.
func Unwatched(v exam.Visit) (to Address, why string, ok bool) {
	list := v.Unwatched()
	if len(list) == 0 {
		return to, "", false
	}
	i := list[0]
	to = Address{Horse: v.Horse.ID, Visit: v.ID, Screen: Watch, Number: i.Number}
	return to, notation.CleanNote(fmt.Sprintf("Injection %d (%s): the observation is neither started nor declined.", i.Number, i.Order.Product)), true
}

// NeedleIn is Unfinished for needles alone; screens ask about a needle before anything else.
func NeedleIn(v exam.Visit, now time.Time) (to Address, why string, ok bool) {
	to = Address{Horse: v.Horse.ID, Visit: v.ID}
	if open := v.OpenInjections(); len(open) > 0 {
		a, _ := open[0].NeedleIn()
		to.Screen, to.Number = Injection, open[0].Number
		return to, needleIn("injection of "+open[0].Order.Product, a.Place, notation.Clock(a.At, now)), true
	}
	if open := v.OpenDraws(); len(open) > 0 {
		st, _ := open[0].NeedleIn()
		to.Screen, to.Number = Draw, open[0].Number
		return to, needleIn("blood draw", st.Place, notation.Clock(st.At, now)), true
	}
	return to, "", false
}

func needleIn(what string, at exam.NeedlePlace, since string) string {
	return notation.CleanNote(fmt.Sprintf("Needle inserted at %s (%s, %s) and not recorded as removed.", since, what, at))
}

// NeedleSince is when a needle went in that was not recorded as removed; false where there is none.
func NeedleSince(v exam.Visit) (time.Time, bool) {
	if open := v.OpenInjections(); len(open) > 0 {
		a, _ := open[0].NeedleIn()
		return a.At, true
	}
	if open := v.OpenDraws(); len(open) > 0 {
		st, _ := open[0].NeedleIn()
		return st.At, true
	}
	return time.Time{}, false
}
