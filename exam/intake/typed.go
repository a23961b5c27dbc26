package intake

import (
	"time"

	"loosebox/exam"
)

// ReadAge reads an age as it was on a day, as a column and a command line give
// it: 9y, 8mo, 3w, 5d, 10h, 20min, or adult or foal where no more is known.
func ReadAge(text string, at time.Time) (exam.Birth, error) { return readAge(text, at) }

// ReadKind reads the kind of an animal: horse, pony, miniature, draft, donkey or mule.
func ReadKind(text string) (exam.AnimalKind, error) { return readKind(text) }

// ReadSex reads the sex of an animal.
func ReadSex(text string) (exam.Sex, error) { return readSex(text) }
