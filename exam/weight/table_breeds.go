package weight

import (
	"loosebox/exam"

	"loosebox/exam/notation"
)

// group is a breed group of the four-measure equations.
type group struct {
	name, who string
	breeds    []string
	kinds     []exam.AnimalKind
	inches    float64 // divisor in inches and pounds
	cm        float64 // divisor in centimetres and kilograms
}

// martinsonGroups are the groups of Martinson et al. 2014. Which breeds are
// stock horses is common practice.
func martinsonGroups() []group {
	return []group{
		{"Arabian", "Arabian horses", []string{"arab"}, lightKinds(), 119, 3596},
		{"pony", "ponies", nil, []exam.AnimalKind{exam.AnimalPony}, 119, 3606},
		{
			"stock horse", "stock horses (Quarter Horse, Paint, Appaloosa)",
			[]string{"quarter", "paint", "appaloosa", "stock"},
			lightKinds(), 114, 3441,
		},
	}
}

// catalanoGroups are the groups of Catalano et al. 2016. Which breeds are
// warmbloods is common practice.
func catalanoGroups() []group {
	return []group{
		{name: "draft", who: "draft horses", kinds: []exam.AnimalKind{exam.AnimalDraft}, cm: 1181},
		{
			name: "warmblood", who: "warmbloods", kinds: []exam.AnimalKind{exam.AnimalHorse}, cm: 1209,
			breeds: []string{"warmblood", "hanover", "holstein", "oldenburg", "trakehn", "westphal", "westfal", "kwpn", "selle fran"},
		},
	}
}

func (g group) audience(fromYears float64) audience {
	return audience{kinds: g.kinds, breeds: g.breeds, fromDays: fromYears * daysPerYear, pregnant: never}
}

func four(divisor, girth, length, height, neck float64) []Product {
	return over(divisor, Power{Girth, girth}, Power{Length, length}, Power{Height, height}, Power{Neck, neck})
}

// fourMeasures are the equations of girth, length, height and neck for one
// breed group each. Those for miniatures, saddle types and Thoroughbreds
// (Catalano et al. 2019) are not held: their coefficients were not found.
func fourMeasures() []Equation {
	var all []Equation
	for _, g := range martinsonGroups() {
		all = append(all, martinson(g, true), martinson(g, false))
	}
	for _, g := range catalanoGroups() {
		all = append(all, catalano(g))
	}
	return all
}

func martinson(g group, inches bool) Equation {
	on := g.audience(3)
	on.minHeightCm = 112
	e := Equation{
		ID: "four measures, " + g.name, LengthFrom: wrapped(), For: g.who + " from three years, not in foal",
		Population:     "629 adults of three types, 3 years and older, 112 cm and taller, not in foal",
		PublishedError: "R² 0.92; RMSE about 22 kg (from memory)",
		SDKg:           22,
		From:           "martinson",
		Evidence:       page, In: notation.Inch, Out: notation.Pounds, rank: 10, on: on,
		Formula:  "G^1.486 x L^0.554 x H^0.599 x N^0.173 / " + notation.FormatNumber(g.inches, 0) + " (in, lb)",
		Products: four(g.inches, 1.486, 0.554, 0.599, 0.173),
	}
	if inches {
		return e
	}
	e.SameAs, e.ID, e.rank = e.ID, e.ID+", metric", 11
	e.Evidence, e.In, e.Out = fromMemory, notation.Centimetre, notation.Kilograms
	e.Formula = "G^1.486 x L^0.554 x H^0.599 x N^0.173 / " + notation.FormatNumber(g.cm, 0) + " (cm, kg)"
	e.Products = four(g.cm, 1.486, 0.554, 0.599, 0.173)
	e.Note = "The metric constant is from memory and agrees within half a percent with the printed one for inches."
	return e
}

func catalano(g group) Equation {
	return Equation{
		ID: "four measures, " + g.name, LengthFrom: straight(), For: g.who + " from three years, not in foal",
		Population:     "138 draft horses and 89 warmbloods",
		PublishedError: "R² 0.96, RMSE 28 kg (girth and length alone: R² 0.94, RMSE 34 kg)",
		SDKg:           28,
		From:           "catalano",
		Evidence:       published, In: notation.Centimetre, Out: notation.Kilograms, rank: 10, on: g.audience(3),
		Formula:  "G^1.528 x L^0.574 x H^0.246 x N^0.261 / " + notation.FormatNumber(g.cm, 0) + " (cm, kg), L straight",
		Products: four(g.cm, 1.528, 0.574, 0.246, 0.261),
	}
}
