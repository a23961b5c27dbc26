package exam

import "fmt"

// Coverage says how much of a routine a visit has answers for. A level that is
// summed up is shown with it: "usual" says little where nearly nothing was looked at.
type Coverage struct {
	Answered int // steps with a value, each site on its own
	Of       int // steps of the routine; 0 where the routine is not known
}

// Coverage counts the answers of the visit among the steps of a routine, which
// holds only what is asked of the horse (Routine.For). One answer for all sites
// counts for each of them; a step that was not done counts for none.
func (v Visit) Coverage(r Routine) Coverage {
	var c Coverage
	done := make(map[Key]bool, len(v.Findings))
	for _, f := range v.Findings {
		if f.Done() {
			done[f.Key()] = true
		}
	}
	for _, ask := range r.Asks {
		for _, k := range ask.Keys() {
			c.Of++
			if done[k] || done[Key{k.Step, Overall}] {
				c.Answered++
			}
		}
	}
	return c
}

// CoverageIn is Coverage by the visit's own routine. Where it is not among the
// routines, as in an imported visit, only the answers are counted.
func (v Visit) CoverageIn(routines []Routine, steps *Steps) Coverage {
	for _, r := range routines {
		if r.Name == v.Routine {
			return v.Coverage(r.For(v.Class(), steps))
		}
	}
	var c Coverage
	for _, f := range v.Findings {
		if f.Done() {
			c.Answered++
		}
	}
	return c
}

// Complete says that every step of a known routine has an answer.
func (c Coverage) Complete() bool { return c.Of > 0 && c.Answered == c.Of }

// Short is "2 of 59", or "2" where the routine is not known.
func (c Coverage) Short() string {
	if c.Of == 0 {
		return fmt.Sprint(c.Answered)
	}
	return fmt.Sprintf("%d of %d", c.Answered, c.Of)
}

// String is "2 of 59 steps answered".
func (c Coverage) String() string {
	if c.Of == 0 && c.Answered == 1 {
		return "1 step answered"
	}
	return c.Short() + " steps answered"
}

// Rated is the level of a visit; nil where nothing was answered, as that is not usual but not known.
func (c Coverage) Rated(l Level) *Level {
	if c.Answered == 0 && l == Level(0) {
		return nil
	}
	return &l
}

// Level sums a visit up: "Highest level so far: usual (2 of 59 steps answered)".
func (c Coverage) Level(l Level) string {
	if c.Answered == 0 {
		return "Nothing is answered yet (" + c.String() + ")"
	}
	return fmt.Sprintf("Highest level so far: %s (%s)", l, c)
}
