package weight

import (
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// growing are the equations for foals, weanlings and yearlings of horses. None
// was made on ponies, miniatures, drafts, donkeys or mules.
func growing() []Equation {
	light := []exam.AnimalKind{exam.AnimalHorse}
	days := func(from, to float64) audience { return audience{kinds: light, fromDays: from, toDays: to} }
	const ruleBand = "our own, wide: the source gives no error"
	return []Equation{
		{
			ID: "trunk and legs, growing horse", Formula: "V = (G² x L + 4 C² x F) / 4 pi (m); 1,093 V below 0.27, else 984 V + 24 (kg)",
			Products: []Product{
				{Coef: 1, Over: 4 * math.Pi, Powers: []Power{{Girth, 2}, {Length, 1}}},
				{Coef: 4, Over: 4 * math.Pi, Powers: []Power{{Carpus, 2}, {Foreleg, 1}}},
			},
			Pieces: []Piece{{Below: 0.27, Slope: 1093}, {Slope: 984, Add: 24}}, LengthFrom: anyShoulder(),
			For: "foals and growing light horses up to two years", Population: "153 Thoroughbred foals, tested on 22 others",
			PublishedError: "better than three older equations on the 22; no figure read",
			BandPercentLow: -10, BandPercentHigh: 10, BandBasis: displayBand,
			From: "staniar", Evidence: published,
			Note: phrase("The abstract lost the division sign before 4 pi; division is the only reading that gives foal weights.",
				"C is the circumference of the knee (carpus), F the length of the left foreleg. There is a step from 295 to 290 kg at V = 0.27."),
			In: Metre, Out: notation.Kilograms, rank: 10, on: days(0, 2*daysPerYear),
		},
		{
			ID: "girth alone, foal", Formula: "90 x G³ (m, kg)", Products: one(90, Power{Girth, 3}), FromKg: 50, ToKg: 250,
			For: "foals of light horses, 50 to 250 kg", Population: "80 Thoroughbred foals of about 50 to 250 kg",
			PublishedError: "slightly less accurate than equations of several measures; no figure read",
			BandPercentLow: -12, BandPercentHigh: 12, BandBasis: displayBand,
			From: "rodriguez", Evidence: page,
			Note: "The girth is taken after the foal has breathed out, 2.5 cm behind the highest point of the withers.",
			In:   Metre, Out: notation.Kilograms, rank: 12, on: days(0, 366),
		},
		{
			ID: "girth alone, foal 1 to 4 weeks", Formula: "(G - 25) / 0.07 (in, lb)", Products: over(0.07, Power{Girth, 1}), Add: -25 / 0.07,
			For: "foals of 7 to 28 days", Population: "not said by the source", BandPercentLow: -20, BandPercentHigh: 20, BandBasis: ruleBand,
			From: "rider", Evidence: common, Note: "Another page prints 25.1 and 1 to 6 weeks.",
			In: notation.Inch, Out: notation.Pounds, rank: 20, on: days(7, 28),
		},
		{
			ID: "girth alone, foal 4 to 13 weeks", Formula: "(G - 25) / 0.07 x 1.1 (in, lb)", Products: []Product{{Coef: 1.1, Over: 0.07, Powers: []Power{{Girth, 1}}}},
			Add: -25 / 0.07 * 1.1, For: "foals of 28 to 90 days", Population: "not said by the source",
			BandPercentLow: -20, BandPercentHigh: 20, BandBasis: ruleBand,
			From: "rider", Evidence: common, In: notation.Inch, Out: notation.Pounds, rank: 20, on: days(28, 90),
		},
		{
			ID: "girth and length, weanling", Formula: "G² x L / 280 (in, lb)", Products: girthLength(280), LengthFrom: anyShoulder(),
			For: "weanlings of light horses", Population: "not said by the source", BandPercentLow: -12, BandPercentHigh: 12, BandBasis: ruleBand,
			From: "sheets", Evidence: fromMemory,
			In: notation.Inch, Out: notation.Pounds, rank: 20, on: days(181, 365.5),
		},
		{
			ID: "girth and length, yearling", Formula: "G² x L / 301 (in, lb)", Products: girthLength(301), LengthFrom: anyShoulder(),
			For: "yearlings of light horses", Population: "not said by the source", BandPercentLow: -12, BandPercentHigh: 12, BandBasis: ruleBand,
			From: "sheets", Evidence: fromMemory,
			In: notation.Inch, Out: notation.Pounds, rank: 20, on: days(365, 2*daysPerYear),
		},
	}
}
