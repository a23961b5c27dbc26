package needle

import (
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/procedure"
)

// Veins are the places where blood is drawn, each with when a needle was last in
// it, of a draw or of an injection. Of the two sides of one vein the less recent
// comes first.
func Veins(s Stand, now time.Time) []procedure.Choice {
	uses := append(s.Uses(), sticks(s.All)...)
	slices.SortStableFunc(uses, func(a, b procedure.Use) int { return b.At.Compare(a.At) })
	var out []procedure.Choice
	for _, site := range procedure.ForBlood() {
		var both []procedure.Choice
		for _, side := range site.Sides {
			c := procedure.Choice{Site: site, Side: side, Warning: site.Warning}
			for i := range uses {
				if u := &uses[i]; u.Place.Site == site.Key && u.Place.Side == side {
					c.Last, c.Ago = u, u.At.Format(exam.DayForm)
					break
				}
			}
			if c.Last != nil && c.Last.Sign != "" {
				c.Warning += "Last time here: " + c.Last.Sign + "."
			}
			both = append(both, c)
		}
		slices.SortStableFunc(both, func(a, b procedure.Choice) int { return lastAt(a).Compare(lastAt(b)) })
		out = append(out, both...)
	}
	return out
}

func lastAt(c procedure.Choice) time.Time {
	if c.Last == nil {
		return time.Time{}
	}
	return c.Last.At
}

func sticks(visits []exam.Visit) []procedure.Use {
	var out []procedure.Use
	for _, v := range visits {
		for _, d := range v.Draws {
			for n, stick := range d.Sticks {
				u := procedure.Use{Place: stick.Place, At: stick.At, Product: "blood draw", Visit: v.ID}
				if stick.Missed {
					u.Product = "no blood came"
				}
				if n == len(d.Sticks)-1 {
					u.Sign = d.SignWords
				}
				out = append(out, u)
			}
		}
	}
	return out
}
