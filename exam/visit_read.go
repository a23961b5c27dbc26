package exam

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam/notation"
)

// Finding returns what stands at a step and site.
func (v Visit) Finding(k Key) (Finding, bool) {
	for _, f := range v.Findings {
		if f.Key() == k {
			return f, true
		}
	}
	return Finding{}, false
}

// NotesAt lists the notes to one place.
func (v Visit) NotesAt(k Key) []VisitNote {
	var out []VisitNote
	for _, n := range v.Notes {
		if n.Step == k.Step && n.Site == k.Site {
			out = append(out, n)
		}
	}
	return out
}

// First is the finding of a step at whichever site was answered first.
func (v Visit) First(step StepID) (Finding, bool) {
	for _, f := range v.Findings {
		if f.Step == step && f.Done() {
			return f, true
		}
	}
	return Finding{}, false
}

// NothingLeft says of a visit in which Left finds no place whether all of them were answered.
func (v Visit) NothingLeft() string {
	notDone := 0
	for i := range v.Findings {
		if v.Findings[i].NotDone != "" {
			notDone++
		}
	}
	if notDone == 0 {
		return "Every step is answered."
	}
	return fmt.Sprintf("No step is left; not done: %d.", notDone)
}

// Left lists the places of a routine that have neither value nor reason yet.
func (v Visit) Left(r Routine) []Key {
	have := make(map[Key]bool, len(v.Findings))
	overall := map[StepID]bool{}
	for _, f := range v.Findings {
		have[f.Key()] = true
		if f.Site == Overall {
			overall[f.Step] = true
		}
	}
	var left []Key
	for _, ask := range r.Asks {
		for _, k := range ask.Keys() {
			if !have[k] && !overall[k.Step] {
				left = append(left, k)
			}
		}
	}
	return left
}

// Before lists those of past that were opened before v, in their order; v itself is left out.
func (v Visit) Before(past []Visit) []Visit {
	var out []Visit
	for _, p := range past {
		if p.ID != v.ID && p.OpenedAt.Before(v.OpenedAt) {
			out = append(out, p)
		}
	}
	return out
}

// ByClock is visits with their openings and closings by the clock of now, for a screen; a page and a file keep the zone of the record.
func ByClock(now time.Time, visits []Visit) []Visit {
	visits = slices.Clone(visits)
	for i := range visits {
		visits[i].OpenedAt = visits[i].OpenedAt.In(now.Location())
		if c := visits[i].ClosedAt; c != nil {
			at := c.In(now.Location())
			visits[i].ClosedAt = &at
		}
	}
	return visits
}

// DatesOf is the set of the openings of visits.
func DatesOf(visits ...Visit) notation.Dates {
	at := make([]time.Time, len(visits))
	for i, v := range visits {
		at[i] = v.OpenedAt
	}
	return notation.NewDates(at...)
}
