package after

import "loosebox/ranges/words"

// What a person reads for the keys of this package.
var (
	kindWords = words.New("what follows an exam", map[Kind]string{
		HandOff:   "hand-off",
		Decision:  "decision",
		Injection: "injection",
		ByVet:     "by the vet",
		Draw:      "blood draw",
		Watch:     "observation",
		Recheck:   "follow-up",
		Dose:      "past dose",
		Due:       "due",
		Close:     "close",
	})
	stateWords = words.New("state of what follows", map[Status]string{
		Open:   "to do",
		Done:   "done",
		Locked: "locked",
	})
)

// String is the kind for a person.
func (k Kind) String() string { return kindWords.Of(k) }

// String is the state for a person.
func (s Status) String() string { return stateWords.Of(s) }
