package round

import "loosebox/ranges/words"

// What a person reads for the keys of this package.
var (
	kindWords = words.New("reason for the round", map[ReasonKind]string{
		Open:      "open visit",
		Recheck:   "recheck",
		Dose:      "dose due",
		Picked:    "picked",
		Carried:   "moved to this day",
		Left:      "left from before",
		Unplanned: "not planned",
	})
	stateWords = words.New("state of a horse of the round", map[Status]string{
		Waiting: "waiting",
		Begun:   "begun",
		Done:    "done",
		Handed:  "reassigned",
		LeftOut: "skipped",
	})
)

// String is the kind for a person.
func (k ReasonKind) String() string { return kindWords.Of(k) }

// String is the state for a person.
func (s Status) String() string { return stateWords.Of(s) }
