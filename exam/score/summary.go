package score

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Score is one score, band or count that the findings of a visit allow.
type Score struct {
	// ID is stable: fluid_loss, condition, crest, neck_to_height, grimace,
	// sirs_items, seven_item_bands, newborn, heat_sum, wet_bulb_globe.
	ID string
	Result
	// Value is the figure, Low and High what open items leave it between; nil
	// where there is none.
	Value, Low, High *float64
	Unit             notation.Unit
	// Level is that of the surroundings or of the newborn's clock; usual for all
	// others, whose findings the judge has judged already.
	Level ranges.Level
	At    exam.Key // where one of its findings stands; empty for the surroundings
}

// Used lists the items that went into the score.
func (s Score) Used() []string {
	return s.list(false, Item.line)
}

// Missing lists the items that were left open, each with why.
func (s Score) Missing() []string {
	return s.list(true, Item.line)
}

func (s Score) list(open bool, line func(Item) string) []string {
	out := []string{}
	for _, i := range s.Items {
		if i.Open == open {
			out = append(out, line(i))
		}
	}
	return out
}

// ofHorse are the makers of the scores of a horse, in the order of Summary. False: the findings do not allow the score.
func ofHorse() []func(v exam.Visit, earlier []exam.Visit) (Score, bool) {
	return []func(exam.Visit, []exam.Visit) (Score, bool){
		fluidLoss, condition, crest, neckToHeight, grimace, sirs, bands, newborn,
	}
}

// ofPlace are the makers of the scores of the place.
func ofPlace() []func(exam.Visit) (Score, bool) {
	return []func(exam.Visit) (Score, bool){heat, globe}
}

// Summary lists every score that the findings of the visit allow, in a fixed
// order. Earlier visits, newest first, lend only the last known weight, for
// litres. A score that was not made for the kind of animal is left out.
func Summary(v exam.Visit, earlier []exam.Visit) []Score {
	var out []Score
	for _, one := range ofHorse() {
		if s, ok := one(v, earlier); ok {
			s.Items = lookedAt(v, s.Items)
			out = append(out, s)
		}
	}
	return append(out, Surroundings(v)...)
}

// Surroundings lists the scores of the place and not of the horse: heat.
func Surroundings(v exam.Visit) []Score {
	var out []Score
	for _, one := range ofPlace() {
		if s, ok := one(v); ok {
			out = append(out, s)
		}
	}
	return out
}

// SoFar is one line for the step that is asked now: how the signs of fluid loss
// stand together so far, or what the last half hour does to the measure. It is
// empty where there is nothing to say.
func SoFar(v exam.Visit, step exam.StepID) string {
	switch step {
	case "gum.moisture", "gum.refill", "jugular.fill", "skin.tent":
		if h := HydrationBand(HydrationSignsOf(v)); h.Known {
			return h.Name + " so far: " + h.Words
		}
	case "foal.breast", "foal.suck", "foal.stand", "foal.nurse", "foal.afterbirth", "foal.meconium", "foal.urine":
		if m, ok := MilestoneOf(step); ok {
			return fmt.Sprintf("Usual by %s after birth, vet told from %s", spell(m.Usual), spell(m.Tell))
		}
	case "temp.rectal", "heart.rate", "breath.rate":
		return stirredBy(v.Context, step)
	}
	return ""
}

// SignsSoFar are the signs of fluid loss one by one, after what they say together,
// for the steps that ask one of them; empty before two of them are known.
func SignsSoFar(v exam.Visit, step exam.StepID) []string {
	if _, ok := GoesInto(step); !ok || SoFar(v, step) == "" {
		return nil
	}
	h := HydrationBand(HydrationSignsOf(v))
	lines := []string{h.Words}
	for _, i := range lookedAt(v, h.Items) {
		lines = append(lines, i.line())
	}
	return lines
}
