package weight

import (
	"loosebox/exam"

	"loosebox/exam/notation"
)

// generalHorse are the equations of girth and length that are not tied to a
// breed, and two that ask for the girth alone or for a length from the elbow.
func generalHorse() []Equation {
	mixed := grown(exam.AnimalHorse, exam.AnimalPony, exam.AnimalDraft)
	const who = "grown horses and ponies of mixed types"
	return []Equation{
		{
			ID: "girth and length, horse", Formula: "G² x L / 11,900 (cm, kg)", Products: girthLength(11900), LengthFrom: anyShoulder(),
			For: who, Population: "281 of 372 weighed horses of mixed types",
			PublishedError: phrase("r² 0.90 in its own horses;", ellis), Spreads: ellisHollands(),
			From:     "carroll",
			Evidence: published, Note: "In horses of 15 hands and over equations of this kind read 95.5 % of the scale (SD 13.1).",
			In: notation.Centimetre, Out: notation.Kilograms, rank: 20, on: mixed,
		},
		{
			ID: "girth and length, horse, 11,877", Formula: "G² x L / 11,877 (cm, kg)", Products: girthLength(11877), LengthFrom: anyShoulder(),
			For: who, Population: "as for 11,900", PublishedError: "as for 11,900",
			Spreads: ellisHollands(),
			From:    "quoted", Evidence: common,
			SameAs: "girth and length, horse", In: notation.Centimetre, Out: notation.Kilograms, rank: 21, on: mixed,
		},
		{
			ID: "girth and length, horse, 11,880", Formula: "G² x L / 11,880 (cm, kg)", Products: girthLength(11880), LengthFrom: anyShoulder(),
			For: who, Population: "145 adults of mixed types",
			PublishedError: "mean error about 16-17 kg; the methods tested read low on the whole",
			Spreads:        ellisHollands(),
			From:           "wagner", Evidence: page,
			SameAs: "girth and length, horse", In: notation.Centimetre, Out: notation.Kilograms, rank: 22, on: mixed,
		},
		{
			ID: "girth and length, horse, 330", Formula: "G² x L / 330 (in, lb)", Products: girthLength(330), LengthFrom: anyShoulder(),
			For: who, Population: "not said by the source", PublishedError: ellis,
			Spreads: ellisHollands(),
			From:    "minnesota", Evidence: published,
			SameAs: "girth and length, horse", In: notation.Inch, Out: notation.Pounds, rank: 23, on: mixed,
		},
		{
			ID: "girth and length, Icelandic", Formula: "G² x L / 11,400 (cm, kg)", Products: girthLength(11400), LengthFrom: anyShoulder(),
			For: "Icelandic horses", Population: "Icelandic horses", PublishedError: "r 0.93 against the scale",
			BandPercentLow: -12, BandPercentHigh: 12, BandBasis: displayBand,
			From: "icelandic", Evidence: published,
			In: notation.Centimetre, Out: notation.Kilograms, rank: 10,
			on: audience{kinds: lightKinds(), fromDays: 2 * daysPerYear, breeds: []string{"icelandic"}},
		},
		{
			ID: "girth and length, pony, 299", Formula: "G² x L / 299 (in, lb)", Products: girthLength(299), LengthFrom: anyShoulder(),
			For: "grown ponies", Population: "not known", BandPercentLow: -12, BandPercentHigh: 15, BandBasis: displayBand,
			From: "sheets", Evidence: fromMemory,
			In: notation.Inch, Out: notation.Pounds, rank: 40, on: grown(exam.AnimalPony),
		},
		{
			ID: "girth and elbow length, horse", Formula: "G² x L / 241.3 (in, lb), L from the elbow", Products: girthLength(241.3), LengthFrom: elbow(),
			For: "grown horses measured from the elbow", Population: "108 horses", PublishedError: "mean absolute error 5.6 %",
			Spreads: milnerHewitt(),
			From:    "milner", Evidence: fromMemory,
			Note: "The constant and the length from the elbow are from memory; one abstract prints 228.1.",
			In:   notation.Inch, Out: notation.Pounds, rank: 41, on: grown(exam.AnimalHorse),
		},
		{
			ID: "girth alone, horse", Formula: "80 x G³ (m, kg)", Products: one(80, Power{Girth, 3}),
			For: "grown horses where only the girth can be taken", Population: "not said by the source",
			BandPercentLow: -20, BandPercentHigh: 20, BandBasis: displayBand,
			From: "marcenac", Evidence: published,
			In: Metre, Out: notation.Kilograms, rank: 45, on: grown(exam.AnimalHorse),
		},
	}
}

// inFoal is the equation for mares from the fifth month.
func inFoal() []Equation {
	return []Equation{{
		ID: "three girths, mare in foal", Formula: "3.068 G + 1.278 girth at the 12th rib space + 0.944 girth at the 18th rib - 540.143 (cm, kg)",
		Products: []Product{
			{Coef: 3.068, Powers: []Power{{Girth, 1}}},
			{Coef: 1.278, Powers: []Power{{Girth12, 1}}},
			{Coef: 0.944, Powers: []Power{{Girth18, 1}}},
		},
		Add: -540.143, For: "mares from the fifth month in foal", Population: "Criollo-type mares, months 5 to 11 in foal",
		PublishedError: "r² 0.87", BandPercentLow: -12, BandPercentHigh: 12, BandBasis: displayBand,
		From: "criollo", Evidence: published,
		Note: "Girth-and-length equations and tapes read low in these mares.",
		In:   notation.Centimetre, Out: notation.Kilograms, rank: 5,
		on: audience{kinds: []exam.AnimalKind{exam.AnimalHorse}, fromDays: 2 * daysPerYear, sexes: []exam.Sex{exam.Mare}, pregnant: only},
	}}
}
