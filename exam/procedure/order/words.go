package order

import "loosebox/ranges/words"

// caption is what stands beside the letter of an answer where that is shorter than what the
// record says of it.
type caption string

const (
	orderly      caption = "in order"
	notOrderly   caption = "not in order"
	checkedBy    caption = "checked by"
	knownToVet   caption = "known to the vet"
	foodTold     caption = "food"
	competesTold caption = "competes"
	againOrdered caption = "again"
)

// What a person reads for the keys of this package.
var captionWords = words.New("letter of a check list", map[caption]string{
	orderly: "in order", notOrderly: "not in order",
	checkedBy: "checked by, with the name", knownToVet: "yes, with the vet's name",
	foodTold: "food, told", competesTold: "competes, told", againOrdered: "again, by the vet's order",
})

// String is the caption for a person.
func (c caption) String() string { return captionWords.Of(c) }
