package weight

import (
	"math"
	"strings"
)

// The errors that bands are computed from, each with the study it was read in or computed from.

// ellisHollands: Ellis & Hollands, Vet Rec 1998;143:335, equations of girth² × length on 600 horses and ponies against a
// scale: 98.6 % of the weight (SD 10.6); under 15 hands 99.6 (5.2); 15 hands and over 95.5 (13.1).
func ellisHollands() []Spread {
	const study = "equations of this kind, " + ellisHollandsStudy
	return []Spread{
		{Whom: "horses and ponies", Source: study, Animals: 600, MeanPercent: -1.4, SDPercent: 10.6},
		{Whom: "horses and ponies under 15 hands", Source: study, MeanPercent: -0.4, SDPercent: 5.2, on: under15hh},
		{Whom: "horses of 15 hands and over", Source: study, MeanPercent: -4.5, SDPercent: 13.1, on: from15hh},
	}
}

// milnerHewitt: 108 horses, mean absolute error 5.6 %. Of a normal error without bias the SD is √(π/2) times that.
func milnerHewitt() []Spread {
	return []Spread{{Whom: "horses", Source: "Milner & Hewitt 1969, SD from a mean absolute error of 5.6 %", Animals: 108, SDPercent: tenth(5.6 * math.Sqrt(math.Pi/2)), SetOn: true}}
}

// Weighed donkeys, computed from open data that are not shipped: 544 in Kenya (Milner & Rougier, Significance 2014;
// length as from the elbow, see the facts on weight), and 385 of the 516 in Morocco on which Pearson & Ouassat 1996 set
// their equations (data set of a university course). Kenya is without the 53 under two years, which are a group of
// their own; of the Moroccan ones 35 were up to three years old. Of the 491 in Kenya 94.9 % lie inside the band of girth
// and elbow length, 20 below it and 5 above; of the 385 in Morocco 88.6 %; of 221 over 160 kg in Kenya 94.1 %. With the
// girth alone 93.3 % and 90.4 %.
func donkeySpreads(kenya, morocco, kenyaYoung, moroccoYoung [2]float64, setOnMorocco bool) []Spread {
	const kenyaData, moroccoData = "open data of Milner & Rougier 2014", "open data of Pearson & Ouassat 1996"
	one := func(whom string, n int, v [2]float64, on part, set bool) Spread {
		from := kenyaData
		if strings.Contains(whom, "Morocco") {
			from = moroccoData
		}
		return Spread{Whom: whom, Source: from, Animals: n, MeanPercent: v[0], SDPercent: v[1], on: on, SetOn: set}
	}
	all := []Spread{
		one("donkeys from two years in Kenya", 491, kenya, whole, false),
		one("donkeys in Morocco", 385, morocco, whole, setOnMorocco),
	}
	if kenyaYoung[1] > 0 {
		all = append(all, one("donkeys under two years in Kenya", 53, kenyaYoung, young, false))
	}
	if moroccoYoung[1] > 0 {
		all = append(all, one("donkeys up to three years in Morocco", 35, moroccoYoung, young, setOnMorocco))
	}
	return all
}
