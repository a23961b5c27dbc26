package exam

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam/notation"
)

// OnLaptop is what of a visit was written on one laptop.
type OnLaptop struct {
	Laptop string    `json:"laptop"` // its name in the practice, or the beginning of its fingerprint
	Named  bool      `json:"named"`  // the practice has the name
	Own    bool      `json:"own"`    // this one
	By     []string  `json:"by"`     // who wrote there
	Lines  int       `json:"lines"`
	From   time.Time `json:"from"` // of its first line
	To     time.Time `json:"to"`   // of its last one, as far as it is here
	// Holds says that it opened the visit, or took it over last: it puts the needles in.
	Holds bool `json:"holds,omitempty"`
}

// Called is the laptop for a person.
func (l OnLaptop) Called() string {
	if l.Own {
		return "this laptop"
	}
	return notation.CleanLine(l.Laptop, 40)
}

// OpenElsewhere says of a visit that is not closed and goes on on another laptop who has
// the horse open there, since when, and when that was last heard of; empty otherwise.
func (v Visit) OpenElsewhere(now time.Time) string {
	l, ok := v.Holder()
	if !ok {
		return ""
	}
	since, seen := l.Span(now)
	return fmt.Sprintf("%s has this horse open on %s since %s, last seen %s.", notation.CleanLine(v.HolderName(), 40), l.Called(), since, seen)
}

// Holder is the other laptop on which a visit that is not closed goes on; false where it is
// closed, or goes on here.
func (v Visit) Holder() (OnLaptop, bool) {
	if v.Closed() || !v.Elsewhere {
		return OnLaptop{}, false
	}
	for _, l := range v.Laptops {
		if l.Holds && !l.Own {
			return l, true
		}
	}
	return OnLaptop{}, false
}

// HolderName is who opened the visit, or took it over last.
func (v Visit) HolderName() string {
	if n := len(v.Taken); n > 0 {
		return v.Taken[n-1].By
	}
	return v.By
}

// Span is in words, by the clock of now, since when the laptop writes in the visit, and when it was last heard of.
// The day is always named: an exam may have been left open for a week.
func (l OnLaptop) Span(now time.Time) (since, seen string) {
	const hour, day = "15:04", "2 Jan 15:04"
	from, to := l.From.In(now.Location()), l.To.In(now.Location())
	since, seen = from.Format(day), to.Format(hour)
	if !notation.SameDay(from, to) {
		seen = to.Format(day)
	}
	return since, seen
}

// Arrival is a visit of which lines came in from another laptop.
type Arrival struct {
	Visit VisitID   `json:"visit"`
	At    time.Time `json:"at"` // of the exchange that brought the last of them
}

// SinceYesterday is the first moment of the day before now.
func SinceYesterday(now time.Time) time.Time {
	y, m, d := now.AddDate(0, 0, -1).Date()
	return time.Date(y, m, d, 0, 0, 0, 0, now.Location())
}

// OnLaptops says who wrote a visit on which laptop; empty where the practice has no names
// for its laptops and one alone wrote it. It is the same on every laptop.
func (v Visit) OnLaptops() string {
	if len(v.Laptops) == 0 || len(v.Laptops) == 1 && !v.Laptops[0].Named {
		return ""
	}
	var parts []string
	for _, l := range v.Laptops {
		who := make([]string, len(l.By))
		for i, by := range l.By {
			who[i] = notation.CleanLine(by, 40)
		}
		parts = append(parts, notation.CleanLine(l.Laptop, 40)+" ("+strings.Join(who, ", ")+")")
	}
	return strings.Join(parts, ", ")
}

// FromOthers says who wrote lines of a visit on other laptops than this one, and on which;
// both are empty where nobody did.
func (v Visit) FromOthers() (by, on []string) {
	for _, l := range v.Laptops {
		if l.Own {
			continue
		}
		on = append(on, l.Called())
		for _, who := range l.By {
			if who = notation.CleanLine(who, 40); !slices.Contains(by, who) {
				by = append(by, who)
			}
		}
	}
	return by, on
}
