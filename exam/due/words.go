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
	partWords = words.New("part of the schedule", map[Part]string{
		FoalOfUnvaccinated: "foal of a mare not vaccinated", FoalOfVaccinated: "foal of a vaccinated mare", MareInFoal: "mare in foal", Adult: "adult",
	})
)

// String is the status for a person.
func (s Status) String() string { return statusWords.Of(s) }

// String is the part for a person.
func (p Part) String() string { return partWords.Of(p) }
