package nav

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Unfinished is where to say what happened to a needle that went in and of which
// nothing says that it came out, or where a watch runs, with a sentence; false
// where the visit may be closed. Its times are those of the clock now.
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

// Unwatched is where a watch is begun or declined that is still to do after a dose;
// false where none is. It keeps no visit open: closing asks about it.
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

// NeedleSince is when the needle went in of which nothing says what happened.
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
