package handoff

import "loosebox/ranges/words"

// pair is two sites that are read aloud as one.
type pair string

const (
	leftSide  pair = "left side"
	rightSide pair = "right side"
	bothFore  pair = "both fore"
	bothHind  pair = "both hind"
)

var pairWords = words.New("two sites as one", map[pair]string{
	leftSide: "left side", rightSide: "right side", bothFore: "both fore", bothHind: "both hind",
})

// String is the pair for a person.
func (p pair) String() string { return pairWords.Of(p) }
