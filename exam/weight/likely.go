package weight

import "loosebox/exam"

// grownKg bounds the weight of a grown animal of a kind: our own bounds, wide. They ask once about a slip of kg and lb
// or of a digit, and judge no animal. A kind that is not known has none.
func grownKg(kind exam.AnimalKind) (exam.Span, bool) {
	span, ok := map[exam.AnimalKind]exam.Span{
		exam.AnimalHorse:     {Low: 220, High: 900},
		exam.AnimalPony:      {Low: 80, High: 550},
		exam.AnimalMiniature: {Low: 35, High: 220},
		exam.AnimalDraft:     {Low: 350, High: 1300},
		exam.AnimalDonkey:    {Low: 60, High: 550},
		exam.AnimalMule:      {Low: 90, High: 800},
	}[kind]
	return span, ok
}

// share is the part of a grown animal's bounds that holds up to an age in days.
type share struct{ toDays, low, high float64 }

// younger are the shares of growing animals: our own, wide.
func younger() []share {
	return []share{
		{8, 0.06, 0.15},
		{92, 0.06, 0.4},
		{183, 0.1, 0.6},
		{366, 0.2, 0.8},
		{731, 0.35, 1},
		{1461, 0.6, 1},
	}
}

// A grown animal's weight beside its last one: kg typed for lb lie outside these shares of it, and a digit too many.
const (
	leastOfLast = 0.6
	mostOfLast  = 1.7
)

// LikelyKg bounds what an animal of this kind and age weighs, and a grown one beside its last weight (0: never weighed).
func LikelyKg(a Animal, lastKg float64) exam.Span {
	grown, known := grownKg(a.Kind)
	if !known {
		return exam.Span{}
	}
	from, to := a.days()
	low, high := 1.0, 1.0
	shares := younger()
	for i := len(shares) - 1; i >= 0; i-- { // what is not known of the age makes the span wider
		if from < shares[i].toDays {
			low = shares[i].low
		}
		if to < shares[i].toDays {
			high = shares[i].high
		}
	}
	span := exam.Span{Low: grown.Low * low, High: grown.High * high}
	if lastKg > 0 && low == 1 {
		span.Low, span.High = max(span.Low, lastKg*leastOfLast), min(span.High, lastKg*mostOfLast)
	}
	return span
}

// Asked is the step of a body weight as it is asked of one animal: an unlikely weight for it is asked about once, as
// every dose and every limit of a draw hangs on it.
func Asked(step exam.Step, a Animal, lastKg float64) exam.Step {
	if span := LikelyKg(a, lastKg); span != (exam.Span{}) {
		step.Likely = span
	}
	return step
}
