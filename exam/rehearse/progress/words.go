package progress

import "loosebox/ranges/words"

// What a person reads for the keys of this package.
var (
	directionWords = words.New("direction of a measure", map[Direction]string{
		TooFew:  "too few to say",
		NoClear: "no clear change",
		Better:  "getting better",
		Worse:   "getting worse",
	})
)

// String is the direction for a person.
func (d Direction) String() string { return directionWords.Of(d) }
