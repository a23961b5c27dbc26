package procedure

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
)

// Use is one needle that went into a site.
type Use struct {
	Place   exam.NeedlePlace
	At      time.Time
	Product string
	ML      float64 // that stayed there; 0 where the needle came out again, or nobody knows
	Visit   exam.VisitID
	Blood   bool // a vessel was met there
	Sign    string
}

// Uses lists the needles of injections into a horse, the newest first, out of
// all of its visits. Where blood came on aspiration the muscle was hurt too, so
// it counts as a use, with 0 mL.
func Uses(visits []exam.Visit) []Use {
	var out []Use
	for i := range visits {
		for k := range visits[i].Injections {
			inj := &visits[i].Injections[k]
			for n, a := range inj.Attempts {
				u := Use{Place: a.Place, At: a.At, Product: inj.Product(), Visit: visits[i].ID, Blood: a.Seen == exam.InjectionBlood}
				if n == len(inj.Attempts)-1 && inj.Finished() {
					u.ML, u.Sign = inj.GivenML, inj.SignWords
				}
				out = append(out, u)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Use) int { return b.At.Compare(a.At) })
	return out
}

// OfferedPlace is a place for a needle that is offered, with when it was last used.
type OfferedPlace struct {
	Site NeedleSite
	Side exam.Site
	Last *Use // nil: never in this record
	// Ago is how long ago that was, in words.
	Ago string
	// Warning is what to know before it is taken.
	Warning string
}

// Place is the choice as it is written down.
func (c OfferedPlace) Place() exam.NeedlePlace {
	return exam.NeedlePlace{Site: c.Site.Key, Side: c.Side}
}

// Places lists the places of a route for a horse, the first one proposed: those
// never used come first, then the least recently used; a site with a warning is
// never before one without. A place where blood came in this visit stands last.
func Places(route exam.Route, uses []Use, visit exam.VisitID, now time.Time) []OfferedPlace {
	var out []OfferedPlace
	for _, s := range For(route) {
		for _, side := range s.Sides {
			c := OfferedPlace{Site: s, Side: side, Warning: s.Warning}
			for i := range uses {
				u := &uses[i]
				if u.Place.Site == s.Key && u.Place.Side == side {
					c.Last, c.Ago = u, ago(u.At, now)
					break
				}
			}
			if c.Last != nil && c.Last.Sign != "" {
				c.Warning = join(c.Warning, "Last time here: "+c.Last.Sign+".")
			}
			if c.spoilt(visit) {
				c.Warning = join(c.Warning, "Blood came here today: another site.")
			}
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b OfferedPlace) int {
		if a.rank(visit) != b.rank(visit) {
			return a.rank(visit) - b.rank(visit)
		}
		return a.lastAt().Compare(b.lastAt())
	})
	return out
}

// Propose is the place least recently used; false where the route has none.
func Propose(route exam.Route, uses []Use, visit exam.VisitID, now time.Time) (OfferedPlace, bool) {
	list := Places(route, uses, visit, now)
	if len(list) == 0 || list[0].rank(visit) > 0 {
		return OfferedPlace{}, false
	}
	return list[0], true
}

func (c OfferedPlace) spoilt(visit exam.VisitID) bool {
	return c.Last != nil && c.Last.Blood && c.Last.Visit == visit
}

// rank puts what may be proposed before what may only be chosen.
func (c OfferedPlace) rank(visit exam.VisitID) int {
	switch {
	case c.spoilt(visit):
		return 3
	case c.Site.Last:
		return 2
	case c.Last != nil && c.Last.Sign != "":
		return 1
	}
	return 0
}

func (c OfferedPlace) lastAt() time.Time {
	if c.Last == nil {
		return time.Time{}
	}
	return c.Last.At
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + " " + b
}

// ago writes how long ago something was; what lies ahead of the clock is today.
func ago(at, now time.Time) string {
	switch d := int(now.Sub(at).Hours() / 24); {
	case d <= 0:
		return "today"
	case d == 1:
		return "yesterday"
	case d < 60:
		return fmt.Sprintf("%d days ago", d)
	case d < 730:
		return fmt.Sprintf("%d months ago", d/30)
	default:
		return fmt.Sprintf("%d years ago", d/365)
	}
}
