package weight

import (
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// Equations lists every equation held: horses, then foals and growing horses,
// donkeys and mules. The list is made anew at every call.
func Equations() []Equation {
	all := append(generalHorse(), fourMeasures()...)
	all = append(all, inFoal()...)
	all = append(all, growing()...)
	all = append(all, donkeys()...)
	all = append(all, mules()...)
	return complete(all)
}

// complete fills in what follows from the literals.
func complete(all []Equation) []Equation {
	works := Works()
	for i := range all {
		all[i] = all[i].completed(works)
	}
	return all
}

// ByID finds an equation, as a record names it.
func ByID(id string) (Equation, bool) {
	for _, e := range append(Equations(), IdealEquations()...) {
		if e.ID == id {
			return e, true
		}
	}
	return Equation{}, false
}

// completed fills what follows from the numbers, the measures needed and the
// words for the length, and cites the works.
func (e Equation) completed(works ranges.Sources) Equation {
	e.Source, _, _ = works.Cite(e.From)
	seen := map[Measure]bool{}
	for _, p := range e.Products {
		for _, f := range p.Powers {
			seen[f.Of] = true
		}
	}
	if len(e.Points) > 0 {
		seen[Girth] = true
	}
	e.Needs = nil
	for _, m := range AllMeasures() {
		if seen[m] {
			e.Needs = append(e.Needs, m)
		}
	}
	if len(e.LengthFrom) > 0 {
		e.LengthDef = e.LengthFrom[0].Words()
	}
	if e.PublishedError == "" {
		e.PublishedError = "none found"
	}
	return e
}

// The ways of taking the length that go together.
func anyShoulder() []LengthFrom {
	return []LengthFrom{FromShoulder, FromShoulderWrap, FromShoulderStraight}
}
func wrapped() []LengthFrom  { return []LengthFrom{FromShoulderWrap, FromShoulder} }
func straight() []LengthFrom { return []LengthFrom{FromShoulderStraight} }
func elbow() []LengthFrom    { return []LengthFrom{FromElbow} }

// one is coef times the powers.
func one(coef float64, powers ...Power) []Product {
	return []Product{{Coef: coef, Powers: powers}}
}

// over is the powers divided by a constant.
func over(divisor float64, powers ...Power) []Product {
	return []Product{{Coef: 1, Over: divisor, Powers: powers}}
}

func girthLength(divisor float64) []Product {
	return over(divisor, Power{Girth, 2}, Power{Length, 1})
}

const (
	displayBand = "our own reckoning: its source gives no error, and how many animals lie inside is not known"
	ellis       = "of equations of this kind on 600 horses: mean 98.6 % of the scale, SD 10.6 (Ellis & Hollands, Vet Rec 1998;143:335)"
)

// phrase joins sentences with blanks.
func phrase(parts ...string) string { return strings.Join(parts, " ") }

func lightKinds() []exam.AnimalKind { return []exam.AnimalKind{exam.AnimalHorse, exam.AnimalPony} }

// grown is for horses from two years; no equation is tested between two and four alone.
func grown(kinds ...exam.AnimalKind) audience {
	return audience{kinds: kinds, fromDays: 2 * daysPerYear}
}

const (
	published  = ranges.Published
	page       = ranges.PracticePage
	common     = ranges.CommonPractice
	fromMemory = ranges.FromMemory
)
