package weight

import (
	"loosebox/exam"

	"loosebox/exam/notation"
)

// donkeys are the equations for donkeys. Those made in one region or breed fit
// only where the breed is said to be so.
func donkeys() []Equation {
	kinds := []exam.AnimalKind{exam.AnimalDonkey}
	small := func(fromYears float64) audience {
		return audience{kinds: kinds, fromDays: fromYears * daysPerYear, notBreeds: []string{"miniature", "mammoth", "miranda", "poitou"}}
	}
	of := func(from float64, breeds ...string) audience {
		return audience{kinds: kinds, fromDays: from * daysPerYear, breeds: breeds}
	}
	const morocco = "516 working donkeys in Morocco"
	mexMare, mexJack := of(2, "mexic"), of(2, "mexic")
	mexMare.sexes, mexJack.sexes = []exam.Sex{exam.Mare}, []exam.Sex{exam.Stallion, exam.Gelding}
	return inUnits(notation.Centimetre, notation.Kilograms, []Equation{
		{
			ID: "girth and elbow length, donkey", Formula: "G^2.12 x L^0.688 / 3,801 (cm, kg), L from the elbow",
			Products: over(3801, Power{Girth, 2.12}, Power{Length, 0.688}), LengthFrom: elbow(),
			For: "donkeys from one year, not miniature or mammoth", Population: morocco, FromKg: 74, ToKg: 252,
			PublishedError: "best of the equations of that study; no figure read",
			Spreads:        donkeySpreads([2]float64{-4.2, 5.8}, [2]float64{0.1, 7.8}, [2]float64{-1.1, 5.7}, [2]float64{1.8, 8.8}, true),
			From:           "pearson", Evidence: fromMemory,
			Note: phrase("The printed abstract says 380, which would make every donkey ten times too heavy;",
				"3,801 is from memory and agrees with 929 weighed donkeys.",
				"Over 160 kg it reads 6.0 % low in Kenya (SD 5.4, n 221). It reads 3.4 % low in Morocco (SD 6.2, n 27)."),
			rank: 10, on: small(1),
		},
		{
			ID: "girth alone, donkey", Formula: "G^2.65 / 2,188 (cm, kg)", Products: over(2188, Power{Girth, 2.65}),
			For: "grown donkeys, not miniature or mammoth", Population: morocco, FromKg: 74, ToKg: 252,
			PublishedError: "best of the equations of one measure of that study; no figure read",
			Spreads:        donkeySpreads([2]float64{-10.5, 6.5}, [2]float64{2.4, 8.9}, [2]float64{}, [2]float64{}, true),
			From:           "pearson", Evidence: published, rank: 13, on: small(2),
			Note: "On 491 other donkeys in Kenya its error was 12.3 % (root mean square), the West African one's 7.4 %.",
		},
		{
			ID: "navel girth and elbow length, young donkey", Formula: "navel girth^1.41 x L^1.09 / 1,000 (cm, kg), L from the elbow",
			Products: over(1000, Power{NavelGirth, 1.41}, Power{Length, 1.09}), LengthFrom: elbow(),
			For: "donkeys under three years", Population: "young donkeys of 52 to 128 kg in Morocco", FromKg: 52, ToKg: 128,
			PublishedError: "best of the equations for young donkeys of that study; no figure read",
			Spreads:        []Spread{{Whom: "donkeys up to three years in Morocco", Animals: 35, MeanPercent: 2.8, SDPercent: 9.0, SetOn: true}},
			From:           "pearson", Evidence: published, rank: 11,
			on: audience{kinds: kinds, toDays: 3 * daysPerYear, notBreeds: small(0).notBreeds},
		},
		{
			ID: "girth and height, donkey", Formula: "0.000252 x H^0.240 x G^2.575 (cm, kg)",
			Products: one(0.000252, Power{Height, 0.240}, Power{Girth, 2.575}),
			For:      "grown donkeys, not miniature or mammoth", Population: "donkeys in the United Kingdom",
			Spreads: donkeySpreads([2]float64{4.7, 7.4}, [2]float64{20.6, 10.3}, [2]float64{}, [2]float64{}, false),
			From:    "eley", Evidence: fromMemory, rank: 14, on: small(3),
		},
		{
			ID: "girth alone, West African donkey", Formula: "G^2.68 / 2,312.44 (cm, kg)", Products: over(2312.44, Power{Girth, 2.68}),
			For: "donkeys from one year, not miniature or mammoth", Population: "1,352 donkeys in Burkina Faso, Mali, Niger and Senegal", PublishedError: "R² 0.81",
			Spreads: donkeySpreads([2]float64{-2.3, 7.1}, [2]float64{11.6, 9.7}, [2]float64{3.7, 8.0}, [2]float64{15.4, 11.4}, false),
			From:    "nininahazwe", Evidence: published, rank: 12, on: small(1),
			Note: "Chosen before the Moroccan equation of the girth alone. In Kenya its error was less: 7.4 % against 12.3 %.",
		},
		{
			ID: "girth alone, West African donkey, straight line", Formula: "2.55 G - 153.49 (cm, kg)", Products: one(2.55, Power{Girth, 1}), Add: -153.49,
			For: "West African donkeys", Population: "1,352 donkeys in Burkina Faso, Mali, Niger and Senegal", PublishedError: "R² 0.81",
			Spreads: donkeySpreads([2]float64{-6.6, 6.9}, [2]float64{9.3, 9.9}, [2]float64{}, [2]float64{}, false),
			From:    "nininahazwe", Evidence: published, rank: 15, on: of(2, "west africa"),
		},
		{
			ID: "girth alone, Mexican donkey, male", Formula: "0.018576 x G^1.84107 (cm, kg)", Products: one(0.018576, Power{Girth, 1.84107}),
			For: "male donkeys of central Mexico", Population: "160 donkeys in central Mexico", PublishedError: "R² 0.98",
			BandPercentLow: -12, BandPercentHigh: 12, BandBasis: displayBand, From: "aluja", Evidence: published, rank: 8, on: mexJack,
		},
		{
			ID: "girth alone, Mexican donkey, female", Formula: "0.031255 x G^1.72888 (cm, kg)", Products: one(0.031255, Power{Girth, 1.72888}),
			For: "female donkeys of central Mexico", Population: "160 donkeys in central Mexico", PublishedError: "R² 0.98",
			BandPercentLow: -12, BandPercentHigh: 12, BandBasis: displayBand, From: "aluja", Evidence: published, rank: 8, on: mexMare,
		},
		{
			ID: "girth alone, Miranda donkey", Formula: "98.138 - 3.0386 G + 0.0293 G² (cm, kg)", Add: 98.138,
			Products: []Product{{Coef: -3.0386, Powers: []Power{{Girth, 1}}}, {Coef: 0.0293, Powers: []Power{{Girth, 2}}}},
			For:      "Miranda donkeys, a large breed", Population: "65 Miranda donkeys of 4 days to 15 years", PublishedError: "r 0.937",
			BandPercentLow: -12, BandPercentHigh: 12, BandBasis: displayBand,
			From: "quaresma", Evidence: published,
			Note: "Below a girth of about 52 cm the curve turns round, so it is not used under 55 cm.", FromGirthCm: 55, rank: 8, on: of(0, "miranda"),
		},
		{
			ID: "girth and length, donkey, field manual", Formula: "G² x L / 300 + 50 (in, lb), L from the shoulder", Products: girthLength(300), Add: 50,
			LengthFrom: anyShoulder(), For: "working donkeys measured from the shoulder", Population: "not said by the source",
			BandPercentLow: -20, BandPercentHigh: 20, BandBasis: "our own, wide: the source gives no error",
			From: "peacecorps", Evidence: common,
			In: notation.Inch, Out: notation.Pounds, rank: 30, on: small(3),
		},
	})
}

// mules are the equations for mules. They disagree by a third on one girth, so
// both bands are wide.
func mules() []Equation {
	grownMule := audience{kinds: []exam.AnimalKind{exam.AnimalMule}, fromDays: 2 * daysPerYear}
	const wide = "our own, wide: the equations for mules disagree by a third"
	return inUnits(notation.Centimetre, notation.Kilograms, []Equation{
		{
			ID: "girth table, mule", Formula: "printed table: 70 in 986 lb, 72 in 1,063 lb, 74 in 1,144 lb", In: notation.Inch, Out: notation.Pounds,
			Points: []GirthWeight{{70, 986}, {72, 1063}, {74, 1144}},
			For:    "grown mules with a girth of 70 to 74 in", Population: "137 mules of 250 to 1,400 lb in the Sierra Nevada, on a livestock scale",
			PublishedError: "none; three horse tapes read low on the same mules", BandPercentLow: -20, BandPercentHigh: 20, BandBasis: wide,
			From: "mill", Evidence: common, rank: 10, on: grownMule,
			Note: "Three rows of the table were read; outside them nothing is said.",
		},
		{
			ID: "girth and elbow length, mule", Formula: "2.8 G + 1.36 L - 330 (cm, kg), L from the elbow", LengthFrom: elbow(),
			Products: []Product{{Coef: 2.8, Powers: []Power{{Girth, 1}}}, {Coef: 1.36, Powers: []Power{{Length, 1}}}}, Add: -330,
			For: "grown working mules of 131 to 391 kg", Population: "117 working mules at four markets in Morocco", FromKg: 131, ToKg: 391,
			PublishedError: "R² 0.68", BandPercentLow: -33, BandPercentHigh: 20, BandBasis: wide, From: "kay", Evidence: published, rank: 12, on: grownMule,
			Note: "The printed abstract says -33, which makes every mule far too heavy. The thesis quotes -330.",
		},
		{
			ID: "girth alone, mule", Formula: "G^2.17 / 251 (cm, kg)", Products: over(251, Power{Girth, 2.17}),
			For: "grown working mules of 131 to 391 kg", Population: "117 working mules at four markets in Morocco", FromKg: 131, ToKg: 391,
			PublishedError: "R² 0.64", BandPercentLow: -33, BandPercentHigh: 20, BandBasis: wide, From: "kay", Evidence: published, rank: 14, on: grownMule,
		},
	})
}

// inUnits gives the equations that name no units the common ones.
func inUnits(in, out notation.Unit, all []Equation) []Equation {
	for i := range all {
		if all[i].In == notation.NoUnit {
			all[i].In, all[i].Out = in, out
		}
	}
	return all
}
