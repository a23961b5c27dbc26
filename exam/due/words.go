package due

import "loosebox/ranges/words"

// What a person reads for the keys of this package.
var (
	statusWords = words.New("status of what is due", map[Status]string{
		Overdue:  "overdue",
		Due:      "due",
		Next:     "next",
		NotKnown: "not known",
	})
)

// String is the status for a person.
func (s Status) String() string { return statusWords.Of(s) }
