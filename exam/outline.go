package exam

import "time"

// Thinned is what a visit without its findings still says of them.
type Thinned struct {
	LookedAt time.Time // see Visit.LookedAt
	Papers   bool      // see Visit.OnlyPapers
}

// Thin is the visit as an outline holds it: with when and by whom, reason, injections,
// decisions and rechecks, and of its horse the identity; without findings, notes, hand-offs,
// draws, watches and formalities.
func (v Visit) Thin() Visit {
	if v.Thinned != nil {
		return v
	}
	v.Thinned = &Thinned{v.LookedAt(), v.OnlyPapers()}
	v.Horse = Horse{ID: v.Horse.ID}
	v.Findings, v.Notes, v.HandOffs, v.Draws, v.Watches, v.Readings = nil, nil, nil, nil, nil, nil
	v.Context = Context{}
	return v
}

// LookedAt is when something of the horse was last examined in the visit; zero where nothing
// was. Putting a closed visit right is not looking at the horse.
func (v Visit) LookedAt() (last time.Time) {
	if v.Thinned != nil {
		return v.Thinned.LookedAt
	}
	for _, f := range v.Findings {
		at := f.At
		if f.Happened != nil {
			at = *f.Happened
		}
		if f.Done() && f.Why == "" && at.After(last) {
			last = at
		}
	}
	return last
}
