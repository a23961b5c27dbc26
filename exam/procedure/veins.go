package procedure

import (
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Veins are the places where blood is drawn, each with when a needle was last in
// it, of a draw or of an injection. Of the two sides of one vein the less recent
// comes first. Days are those of the clock of now.
func Veins(visits []exam.Visit, now time.Time) []OfferedPlace {
	uses := append(Uses(visits), sticks(visits)...)
	slices.SortStableFunc(uses, func(a, b Use) int { return b.At.Compare(a.At) })
	var out []OfferedPlace
	for _, site := range ForBlood() {
		var both []OfferedPlace
		for _, side := range site.Sides {
			c := OfferedPlace{Site: site, Side: side, Warning: site.Warning}
			for i := range uses {
				if u := &uses[i]; u.Place.Site == site.Key && u.Place.Side == side {
					c.Last, c.Ago = u, notation.ShownOn(u.At, now)
					break
				}
			}
			if c.Last != nil && c.Last.Sign != "" {
				c.Warning += "Last time here: " + c.Last.Sign + "."
			}
			both = append(both, c)
		}
		slices.SortStableFunc(both, func(a, b OfferedPlace) int { return a.lastAt().Compare(b.lastAt()) })
		out = append(out, both...)
	}
	return out
}

func sticks(visits []exam.Visit) []Use {
	var out []Use
	for _, v := range visits {
		for _, d := range v.Draws {
			for n, stick := range d.Sticks {
				u := Use{Place: stick.Place, At: stick.At, Product: "blood draw", Visit: v.ID}
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
