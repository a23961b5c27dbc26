package weight

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// IdealEquations lists the equations for an ideal weight from length and
// height. They were fitted on animals of condition score 5 and say what an
// animal of that frame weighs at that score, not what this one weighs.
func IdealEquations() []Equation {
	arab, pony, stock := martinsonGroups()[0], martinsonGroups()[1], martinsonGroups()[2]
	draft, warmblood := catalanoGroups()[0], catalanoGroups()[1]
	all := []Equation{
		martinsonIdeal(arab, 1344), martinsonIdeal(pony, 1269), martinsonIdeal(stock, 1333),
		martinsonIdealMetric(arab, 611), martinsonIdealMetric(pony, 577), martinsonIdealMetric(stock, 606),
		catalanoIdeal(draft, 951), catalanoIdeal(warmblood, 1016),
	}
	return complete(all)
}

func lengthHeight(length, height float64) []Product {
	return []Product{
		{Coef: length, Powers: []Power{{Length, 1}}},
		{Coef: height, Powers: []Power{{Height, 1}}},
	}
}

func martinsonIdeal(g group, minus float64) Equation {
	on := g.audience(3)
	on.minHeightCm = 112
	return Equation{
		ID: "ideal weight, " + g.name, Formula: fmt.Sprintf("15.65 L + 23.47 H - %.0f (in, lb)", minus),
		Products: lengthHeight(15.65, 23.47), Add: -minus, LengthFrom: wrapped(),
		For: g.who + " from three years, not in foal", Population: "animals of condition score 5 among 629 adults",
		PublishedError: "R² 0.86, RMSE 24 kg (from memory)", SDKg: 24,
		From: "martinson", Evidence: page,
		In: notation.Inch, Out: notation.Pounds, rank: 10, on: on,
	}
}

func martinsonIdealMetric(g group, minus float64) Equation {
	e := martinsonIdeal(g, minus)
	e.SameAs, e.ID, e.rank, e.Evidence = e.ID, e.ID+", metric", 11, fromMemory
	e.Formula, e.Products = fmt.Sprintf("2.8 L + 4.2 H - %.0f (cm, kg)", minus), lengthHeight(2.8, 4.2)
	e.In, e.Out = notation.Centimetre, notation.Kilograms
	return e
}

func catalanoIdeal(g group, minus float64) Equation {
	return Equation{
		ID: "ideal weight, " + g.name, Formula: fmt.Sprintf("4.92 L + 4.64 H - %.0f (cm, kg), L straight", minus),
		Products: lengthHeight(4.92, 4.64), Add: -minus, LengthFrom: straight(),
		For: g.who + " from three years, not in foal", Population: "138 draft horses and 89 warmbloods",
		PublishedError: "R² 0.90, RMSE 33 kg", SDKg: 33,
		From:     "catalano",
		Evidence: published, Note: "One magazine prints 1.016 for 1,016, which is a misprint.",
		In: notation.Centimetre, Out: notation.Kilograms, rank: 10, on: g.audience(3),
	}
}

// NeckRatio is the neck's girth over the height at the withers, with the limit
// above which a cresty neck is suspected.
type NeckRatio struct {
	Ratio, Limit float64 // centimetres to centimetres
	Above        bool
	Source       string
	Evidence     ranges.Evidence
}

// NeckToHeight computes the neck ratio of a horse (limit 0.63) or pony (0.68);
// false where a measure is missing or no limit is held for the kind. Source:
// University of Minnesota, body measurements.
func NeckToHeight(kind exam.AnimalKind, m Measures) (NeckRatio, bool) {
	limit := map[exam.AnimalKind]float64{exam.AnimalHorse: 0.63, exam.AnimalPony: 0.68}[kind]
	neck, okNeck := m.Cm(Neck)
	height, okHeight := m.Cm(Height)
	if limit == 0 || !okNeck || !okHeight || Plausible(m) != nil {
		return NeckRatio{}, false
	}
	ratio := neck / height
	return NeckRatio{
		Ratio: ratio, Limit: limit, Above: ratio > limit,
		Source: NeckRatioSource, Evidence: published,
	}, true
}

// NeckRatioSource is where the limits of the ratio of neck to height come from.
const NeckRatioSource = "University of Minnesota, College of Veterinary Medicine, Equine: body measurements"
