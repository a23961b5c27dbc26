package rehearse

import (
	"slices"

	"loosebox/exam"
)

// Modes are how a rehearsal is played: Blind shows neither the order of the steps nor how they are done, Timed shows the
// time that passes.
type Modes struct {
	Blind bool `json:"blind"`
	Timed bool `json:"timed"`
}

// Entry keeps the modes in the record, for the caller to stamp with time and person: a note to the whole visit.
func (m Modes) Entry() exam.Entry {
	f := fact{kind: factModes}
	if m.Blind {
		f.values = append(f.values, "blind")
	}
	if m.Timed {
		f.values = append(f.values, "timed")
	}
	return f.entry(exam.Key{})
}

// ModesIn reads the modes of a visit; none where it says nothing.
func ModesIn(v exam.Visit) Modes {
	var out Modes
	for _, f := range factsIn(v, factModes) {
		out.Blind = out.Blind || slices.Contains(f.values, "blind")
		out.Timed = out.Timed || slices.Contains(f.values, "timed")
	}
	return out
}
