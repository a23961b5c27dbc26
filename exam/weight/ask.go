package weight

import (
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// TapePlace is one measure to take: where the tape goes, and what it is good for.
type TapePlace struct {
	Measure Measure
	Name    string   // as a label, at most 30 columns
	How     []string // lines of at most 72 columns
	// LengthFrom is how the length is meant; empty for other measures.
	LengthFrom LengthFrom
	// Optional says that a weight can be had without it.
	Optional  bool
	Equations []string // which of the equations made for the animal use it
	Source    string   // where the place of the tape comes from
}

// Asks lists the measures that an equation made for this animal needs, in the
// order in which they are taken. The girth is asked twice, and the mean counts.
// It is empty where no equation is held: then only a scale will do.
func Asks(a Animal) []TapePlace {
	fits := Fitting(a)
	from := FromUnsaid
	for _, e := range fits {
		if len(e.LengthFrom) > 0 {
			from = e.LengthFrom[0]
			break
		}
	}
	fits = slices.DeleteFunc(fits, func(e Equation) bool {
		return len(e.LengthFrom) > 0 && !slices.Contains(e.LengthFrom, from)
	})
	var asks []TapePlace
	for _, of := range AllMeasures() {
		ask := TapePlace{Measure: of}
		needed := of
		if of == GirthAgain {
			needed = Girth
		}
		ask.Optional = of == GirthAgain
		for _, e := range fits {
			if slices.Contains(e.Needs, needed) {
				ask.Equations = append(ask.Equations, e.ID)
			} else {
				ask.Optional = true
			}
		}
		if len(ask.Equations) == 0 {
			continue
		}
		if of == Length {
			ask.LengthFrom = from
		}
		asks = append(asks, ask.described(a, from, fits[0]))
	}
	return asks
}

// Wanted says that some equation can still use the measure at a place of the
// asks: where one before it was passed over, those that go only with it are of
// no use. taken are the readings so far.
func Wanted(asks []TapePlace, at int, taken map[Measure]notation.Quantity) bool {
	passed := map[Measure]bool{}
	for _, ask := range asks[:at] {
		if _, ok := taken[ask.Measure]; !ok && ask.Measure != GirthAgain {
			passed[ask.Measure] = true
		}
	}
	return slices.ContainsFunc(asks[at].Equations, func(id string) bool {
		e, ok := ByID(id)
		return ok && !slices.ContainsFunc(e.Needs, func(m Measure) bool { return passed[m] })
	})
}

// Taken are the readings of the measures that are asked, up to and with the one
// at a place; the end of the asks takes all.
func Taken(asks []TapePlace, upTo int, read map[Measure]notation.Quantity) map[Measure]notation.Quantity {
	out := map[Measure]notation.Quantity{}
	for _, ask := range asks[:min(upTo+1, len(asks))] {
		if q, ok := read[ask.Measure]; ok {
			out[ask.Measure] = q
		}
	}
	return out
}

// FromOf is where the asks take the length from; FromUnsaid where they take none.
func FromOf(asks []TapePlace) LengthFrom {
	for _, ask := range asks {
		if ask.Measure == Length {
			return ask.LengthFrom
		}
	}
	return FromUnsaid
}

func (k TapePlace) described(a Animal, from LengthFrom, first Equation) TapePlace {
	switch k.Measure {
	case Girth:
		k.Name = "Heart girth"
		k.How, k.Source = girthHow(a, first)
	case GirthAgain:
		k.Name = "Heart girth, once more"
		k.How = []string{"Take the tape off, put it round again at the same place, read again.", "The mean of the two counts: 1 % of girth is 2 to 3 % of weight."}
		k.Source = "own reckoning from the equations"
	case Girth12:
		k.Name = "Girth at the 12th rib space"
		k.How = []string{"Around the belly at the space behind the twelfth rib, tape upright."}
		k.Source = first.Source
	case Girth18:
		k.Name = "Girth at the 18th rib"
		k.How = []string{"Around the belly at the last rib, tape upright."}
		k.Source = first.Source
	case NavelGirth:
		k.Name = "Girth at the navel"
		k.How = []string{"Around the belly at the navel, tape upright, snug, not denting."}
		k.Source = "Pearson & Ouassat, Vet Rec 1996;138:229-233"
	case Length:
		k.Name = "Body length"
		k.How, k.Source = lengthHow(from)
	case Height:
		k.Name = "Height at the withers"
		k.How = []string{"From hard, level ground straight up to the top of the withers."}
		if a.Kind == exam.AnimalHorse || a.Kind == exam.AnimalDraft {
			k.How = append(k.How, "Of a shod horse take off the thickness of the shoe.")
		}
		k.Source = "University of Minnesota, summary at stablemanagement.com (2014 study)"
	case Neck:
		k.Name = "Neck girth"
		k.How = []string{"Around the neck half-way between poll and withers, neck relaxed."}
		k.Source = "University of Minnesota, body measurements"
	case Carpus:
		k.Name = "Around the knee"
		k.How = []string{"Around the left knee (carpus), not the cannon bone below it."}
		k.Source = first.Source
	case Foreleg:
		k.Name = "Length of the foreleg"
		k.How = []string{"Left foreleg, standing square, from the elbow to the ground.", "The points are from memory: the abstract says only left forelimb."}
		k.Source = first.Source
	}
	return k
}

func girthHow(a Animal, first Equation) ([]string, string) {
	_, oldest := a.days()
	switch {
	case a.Kind == exam.AnimalDonkey:
		return []string{
			"Around the chest as far forward as it goes, against the forelegs;",
			"it crosses the back about a hand's breadth (10 cm) behind the withers.",
			"The same person every time.",
		}, "The Donkey Sanctuary, leaflet"
	case a.Kind == exam.AnimalMule:
		return []string{"Around the chest about 10 cm (4 in) behind the point of the elbow,", "the tape upright, square to the ground."},
			"starmilling.com/bray-mulesbodyweight.php"
	case oldest <= 366:
		return []string{
			"Just behind the elbow and 2.5 cm (1 in) behind the highest point of",
			"the withers. Read it after the foal has breathed out.",
		}, "Rodríguez et al., Vet Rec 2007, as reported by ker.co/?p=5749"
	case first.on.pregnant == never:
		return []string{
			"Around the chest at the third thoracic vertebra, the place where the",
			"height is taken, and close behind the elbow. Standing square, level",
			"ground, tape snug and not denting.",
		}, "Martinson et al. 2014 and Catalano et al. 2016"
	}
	return []string{
		"Around the chest, just behind the slope of the withers and close",
		"behind the elbow. Standing square, level ground, tape snug and not",
		"denting.",
	}, "University of Minnesota, body measurements"
}

func lengthHow(from LengthFrom) ([]string, string) {
	switch from {
	case FromElbow:
		return []string{
			"From the point of the ELBOW to the point of the buttock.",
			"Not from the shoulder: that is longer, and the weight far too high.",
		}, "Pearson & Ouassat, Vet Rec 1996;138:229-233"
	case FromShoulderStraight:
		return []string{
			"From the point of the SHOULDER straight back to an upright line at",
			"the point of the buttock. Do not wrap the tape round.",
			"Two people, or a stiff tape.",
		}, "Catalano et al., J Equine Vet Sci 2016;39:38-43"
	case FromShoulderWrap:
		return []string{
			"From the point of the SHOULDER to the point of the buttock, the tape",
			"following the curve. Two people, or a stiff tape.",
		}, "Martinson et al., J Anim Sci 2014"
	case FromShoulder, FromUnsaid:
	}
	return []string{
		"From the point of the SHOULDER to the point of the buttock.",
		"Not from the elbow: that is shorter, and the weight far too low.",
		"Two people, or a stiff tape.",
	}, "University of Minnesota, body measurements"
}
