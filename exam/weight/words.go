package weight

import "loosebox/ranges/words"

// What a person reads for the keys of this package.
var (
	measureWords = words.New("measure of the tape", map[Measure]string{
		Girth:      "girth",
		GirthAgain: "girth again",
		Girth12:    "girth at the 12th rib space",
		Girth18:    "girth at the 18th rib",
		NavelGirth: "girth at the navel",
		Length:     "length",
		Height:     "height",
		Neck:       "neck",
		Carpus:     "carpus",
		Foreleg:    "foreleg",
	})
)

// String is the measure for a person.
func (m Measure) String() string { return measureWords.Of(m) }
