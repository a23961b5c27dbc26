package weight

import (
	"math"

	"loosebox/exam"
	"loosebox/ranges"
)

// PublishedError is how far a method read from a scale in one study: the mean
// reading and its standard deviation in percent of the true weight.
type PublishedError struct {
	Whom                   string
	Animals                int
	MeanPercent, SDPercent float64 // SDPercent 0: not published
	Source                 string
	Evidence               ranges.Evidence
}

// Method is a way of finding a body weight, with its published errors.
type Method struct {
	Name      exam.WeighMethod
	Band      ErrorBand // how far it is taken to read from the true weight
	Published []PublishedError
	Evidence  ranges.Evidence // of the band
	Words     string          // one line for a person
}

const ellisHollandsStudy = "Ellis & Hollands, Vet Rec 1998;143:335"

// Methods lists the ways of finding a weight, the surest first.
func Methods() []Method {
	const thesis = "a thesis of Utrecht University, read in a copy without its author"
	return []Method{
		{
			Name: exam.WeightScale, Evidence: ranges.CommonPractice,
			Band:  ErrorBand{LowPercent: -1, HighPercent: 1, Basis: "common practice, of a scale that is level, set to zero and checked"},
			Words: "A scale that is level and set to zero; the horse square on it and still.",
		},
		{
			Name: exam.WeightMeasured, Band: bandOf(spreadsOf(ellisHollands(), whole)), Evidence: ranges.Published,
			Published: []PublishedError{
				{"horses and ponies", 600, 98.6, 10.6, ellisHollandsStudy, published},
				{"under 15 hands", 0, 99.6, 5.2, ellisHollandsStudy, published},
				{"15 hands and over", 0, 95.5, 13.1, ellisHollandsStudy, published},
			},
			Words: "Tape measures and an equation made for the animal; each equation has a band of its own.",
		},
		{
			Name: exam.WeightTape, Evidence: ranges.Published,
			Band: bandOf([]Spread{
				{Whom: "horses and ponies with one tape", Source: ellisHollandsStudy, Animals: 600, MeanPercent: 12, SDPercent: 9.3},
				{Whom: "horses and ponies with another tape", Source: ellisHollandsStudy, Animals: 600, MeanPercent: -1.9, SDPercent: 8.1},
			}),
			Published: []PublishedError{
				{"one tape, horses and ponies", 600, 112.0, 9.3, ellisHollandsStudy, published},
				{"the same, under 15 hands", 0, 113.5, 0, ellisHollandsStudy, published},
				{"the same, over 15 hands", 0, 103.5, 0, ellisHollandsStudy, published},
				{"another tape, horses and ponies", 600, 98.1, 8.1, ellisHollandsStudy, published},
				{"the same, under 15 hands", 0, 99.0, 0, ellisHollandsStudy, published},
				{"the same, over 15 hands", 0, 91.8, 0, ellisHollandsStudy, published},
				{"horses", 20, 99.1, 3.6, thesis, common},
				{"ponies over 100 cm", 12, 98.4, 4.6, thesis, common},
				{"ponies under 100 cm", 8, 114.3, 16.0, thesis, common},
			},
			Words: "A weight tape made for this kind of animal; tapes differ, so always use the same one.",
		},
		{
			Name: exam.WeightEye, Evidence: ranges.Published,
			Band: bandOf([]Spread{{Whom: "horses and ponies", Source: ellisHollandsStudy, Animals: 600, MeanPercent: -11.7, SDPercent: 20.1}}),
			Published: []PublishedError{
				{"horses and ponies", 600, 88.3, 20.1, ellisHollandsStudy, published},
				{"one pony of 525 kg, guesses of 436 people", 1, 90, 0, "westgatelabs.co.uk/news/looks-can-be-deceptive", page},
			},
			Words: "A guess. Guesses are about 12 % low and vary widely. It stays marked as by eye everywhere.",
		},
	}
}

// MethodOf finds a method and fits its band to the animal: a tape on a pony or
// miniature under 100 cm reads high (heightCm 0: not known; a miniature is taken
// to be under 100 cm), and no tape for horses is made for a donkey, mule or foal.
func MethodOf(name exam.WeighMethod, a Animal, heightCm float64) (Method, bool) {
	for _, m := range Methods() {
		if m.Name != name {
			continue
		}
		_, oldest := a.days()
		others := a.Kind == exam.AnimalDonkey || a.Kind == exam.AnimalMule || oldest <= 366
		if name == exam.WeightMeasured && others {
			m.Published = nil // the errors held are those of equations for grown horses and ponies
		}
		if name != exam.WeightTape {
			return m, true
		}
		small := heightCm > 0 && heightCm < 100 || heightCm == 0 && a.Kind == exam.AnimalMiniature
		switch {
		case others:
			m.Band = ErrorBand{LowPercent: -25, HighPercent: 25, Basis: "our own, wide: tapes for grown horses are not made for this animal"}
			m.Evidence = ranges.CommonPractice
			m.Words = "Only a tape made for donkeys, mules or foals; one for grown horses misleads here."
		case small:
			m.Band = bandOf([]Spread{{Whom: "ponies under 100 cm", Source: m.Published[len(m.Published)-1].Source, Animals: 8, MeanPercent: 14.3, SDPercent: 16.0}})
			m.Evidence = common
			m.Words = "Tapes read high on animals under 100 cm: 14 % in the mean of 8 ponies."
		}
		return m, true
	}
	return Method{}, false
}

// Found is how a weight of so many kilograms is kept that was found in this way
// and read off as one number.
func Found(method exam.WeighMethod, a Animal, kg float64) exam.Weight {
	w := exam.Weight{Method: method}
	if m, ok := MethodOf(method, a, 0); ok {
		w.LowKg, w.HighKg = m.Bounds(kg)
		w.BandPercent = m.Band.Percent
	}
	return w
}

// Bounds the true weight when the method reads kg; zeros where kg is no weight.
func (m Method) Bounds(kg float64) (low, high float64) {
	if !(kg > 0) || math.IsInf(kg, 0) {
		return 0, 0
	}
	return m.Band.Of(kg)
}
