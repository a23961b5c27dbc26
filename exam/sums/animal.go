package sums

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
)

// The fields of an animal that is not in the record.
const (
	keyKind   = "kind"
	keyAge    = "age"
	keyBreed  = "breed"
	keyInFoal = "in-foal"
)

// What stands in the field of a mare in foal.
const (
	foalEarly = "early"
	foalLate  = "late"
)

// animalFields ask which animal it is; none where a horse of the record is known.
func animalFields(in In) []Field {
	if in.Known() {
		return nil
	}
	kinds := make([]exam.Choice, 0, len(exam.Animals()))
	for _, k := range exam.Animals() {
		kinds = append(kinds, exam.Choice{Key: string(k), Words: k.String()})
	}
	return []Field{
		{Key: keyKind, Label: "kind", Ask: "which kind of animal", Choices: kinds, Needed: true, Check: refusing(intake.ReadKind)},
		{Key: keyAge, Label: "age", Ask: "its age, 9y, 8mo, 5d; empty for a grown one", Check: func(text string) error {
			_, err := intake.ReadAge(text, in.Now)
			return err
		}},
		{Key: keyBreed, Label: "breed", Ask: "its breed, where it is known; may stay empty"},
	}
}

// inFoalField asks whether a grown mare is in foal: her belly misleads the tape.
func inFoalField(in In) Field {
	return Field{
		Key: keyInFoal, Label: "in foal", Ask: "whether it is a mare in foal",
		Choices: []exam.Choice{{Key: "", Words: "no"}, {Key: foalEarly, Words: "under 5 months"}, {Key: foalLate, Words: "5 months or more"}},
		Hidden: func(v Values) bool {
			h, err := described(v, in.Now)
			return err != nil || !exam.ClassOf(h, in.Now).GrownHorse() || len(weight.Asks(weight.AnimalOf(h, in.Now))) == 0
		},
	}
}

// animal is the horse of the record, or the one that was described.
func animal(in In, v Values) (exam.Horse, error) {
	if in.Known() {
		return in.Horse, nil
	}
	return described(v, in.Now)
}

func described(v Values, now time.Time) (exam.Horse, error) {
	h := exam.Horse{Birth: exam.Birth{Precision: exam.BornAdult}, Breed: v.Get(keyBreed)}
	var err error
	if h.Kind, err = intake.ReadKind(v.Get(keyKind)); err != nil {
		return h, fmt.Errorf("kind: %w", refusal(err))
	}
	if v.Get(keyAge) != "" {
		if h.Birth, err = intake.ReadAge(v.Get(keyAge), now); err != nil {
			return h, fmt.Errorf("age: %w", refusal(err))
		}
	}
	return h, nil
}

// refusal makes a reader's sentence a refusal.
func refusal(err error) error { return &notation.Refusal{Why: err.Error()} }
