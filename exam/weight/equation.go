package weight

import (
	"fmt"
	"math"
	"slices"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Metre is a unit of the measures of some foal equations.
const Metre notation.Unit = "m"

// Power is a measure raised to a power.
type Power struct {
	Of Measure
	To float64
}

// Product is Coef times its powers, divided by Over (0 stands for 1).
type Product struct {
	Coef, Over float64
	Powers     []Power
}

// Piece turns the sum of an equation into a weight where the sum is below
// Below (0: no limit): Slope times the sum, plus Add.
type Piece struct{ Below, Slope, Add float64 }

// GirthWeight is one row of a printed table of weight by girth.
type GirthWeight struct{ Girth, Weight float64 }

// Equation is one way from measures to a weight, described once: the numbers it
// computes with and everything a person may ask about them.
type Equation struct {
	ID      string // our own short name, stable: it is kept in the record
	Formula string // for a person; G girth, L length, H height, N neck
	Needs   []Measure
	// LengthFrom lists the ways of taking the length that it may be used with.
	LengthFrom []LengthFrom
	LengthDef  string // the same for a person; empty where it needs no length

	For            string // whom it was made for, completing "made for"
	Population     string // whom it was measured on
	PublishedError string // as published; says so where none is
	// Spreads are its errors against a scale, and SDKg is its error in kg where
	// only that is published: BandFor computes the band from them.
	Spreads []Spread
	SDKg    float64
	// BandPercentLow and BandPercentHigh bound how far it is taken to read from
	// the scale where no error is published, in percent of the true weight: -12
	// and 12 say that it reads 12 % below to 12 % above. BandBasis says why.
	BandPercentLow, BandPercentHigh float64
	BandBasis                       string
	// FromKg and ToKg are the weights it was made on; 0 where not published.
	FromKg, ToKg float64
	FromGirthCm  float64 // below this girth it says nothing
	From         string  // codes of its works, "a+b" (sources.go)
	Source       string  // the works in words, filled from From
	Evidence     ranges.Evidence
	Note         string // what else a person should know; may be empty
	// SameAs names the equation shown instead of this one, which differs from it
	// only in units or by less than half a percent.
	SameAs string

	In, Out  notation.Unit // of the measures and of the result
	Products []Product
	Add      float64
	Pieces   []Piece
	Points   []GirthWeight

	rank int // lower is chosen first
	on   audience
}

// Kg computes the weight in kilograms. The error is a *notation.Refusal: a measure
// is missing, the length was taken another way, or the measures lie where the
// equation says nothing.
func (e Equation) Kg(m Measures) (float64, error) {
	for _, need := range e.Needs {
		if _, ok := m.Cm(need); !ok {
			return 0, &notation.Refusal{Why: fmt.Sprintf("%s needs the %s", e.ID, need)}
		}
	}
	if slices.Contains(e.Needs, Length) && !slices.Contains(e.LengthFrom, m.LengthFrom) {
		return 0, e.refuseLength(m.LengthFrom)
	}
	if g, ok := m.Cm(Girth); ok && g < e.FromGirthCm {
		return 0, &notation.Refusal{Why: fmt.Sprintf("%s says nothing below a girth of %s cm", e.ID, notation.FormatNumber(e.FromGirthCm, 0))}
	}
	w := e.Add
	for _, p := range e.Products {
		w += p.value(m, e.In)
	}
	for _, p := range e.Pieces {
		if p.Below == 0 || w < p.Below {
			w = p.Slope*w + p.Add
			break
		}
	}
	if len(e.Points) > 0 {
		w = e.between(m)
	}
	if e.Out == notation.Pounds {
		w = inKg(w)
	}
	if math.IsNaN(w) || math.IsInf(w, 0) || w <= 0 {
		return 0, &notation.Refusal{Why: fmt.Sprintf("%s says nothing at these measures", e.ID)}
	}
	return w, nil
}

func (e Equation) refuseLength(from LengthFrom) error {
	why := fmt.Sprintf("%s needs the length %s; this one was taken %s", e.ID, e.LengthDef, from.Words())
	if from == FromElbow {
		why += " and is shorter, so the weight would come out far too low"
	}
	return &notation.Refusal{Why: why, Meant: "a length taken " + e.LengthDef}
}

func (p Product) value(m Measures, in notation.Unit) float64 {
	v := p.Coef
	for _, f := range p.Powers {
		cm, _ := m.Cm(f.Of)
		v *= raise(inUnit(cm, in), f.To)
	}
	if p.Over != 0 {
		v /= p.Over
	}
	return v
}

// raise multiplies out whole powers, so that G² is G times G to the last digit.
func raise(v, to float64) float64 {
	switch to {
	case 1:
		return v
	case 2:
		return v * v
	case 3:
		return v * v * v
	}
	return math.Pow(v, to)
}

// between reads the table at the girth, along the straight line between its
// rows; NaN outside the table.
func (e Equation) between(m Measures) float64 {
	cm, _ := m.Cm(Girth)
	g := inUnit(cm, e.In)
	const slack = 1e-9
	for i := 1; i < len(e.Points); i++ {
		a, b := e.Points[i-1], e.Points[i]
		if g >= a.Girth-slack && g <= b.Girth+slack {
			return a.Weight + (b.Weight-a.Weight)*(g-a.Girth)/(b.Girth-a.Girth)
		}
	}
	return math.NaN()
}

// inUnit turns centimetres into the unit of an equation.
func inUnit(cm float64, u notation.Unit) float64 {
	if u == Metre {
		return cm / 100
	}
	if q, ok := (notation.Quantity{Value: cm, Unit: notation.Centimetre}).In(u); ok {
		return q.Value
	}
	return math.NaN()
}

func inKg(lb float64) float64 {
	q, _ := notation.Quantity{Value: lb, Unit: notation.Pounds}.In(notation.Kilograms)
	return q.Value
}

// Sensitivity is by how many percent the weight changes when one measure changes
// by one percent, at these measures: 2 for the girth in G² x L. It turns a tape
// error into a weight error. The error is that of Kg.
func (e Equation) Sensitivity(of Measure, m Measures) (float64, error) {
	const share = 1e-6
	kg, err := e.Kg(m)
	if err != nil {
		return 0, err
	}
	if at := m.field(of); at != nil {
		*at *= 1 + share
	}
	if of == Girth {
		m.GirthAgainCm *= 1 + share
	}
	more, err := e.Kg(m)
	if err != nil {
		return 0, err
	}
	return (more/kg - 1) / share, nil
}

// band turns "reads between low and high percent off the true weight" into
// bounds of the true weight.
func band(kg, lowPercent, highPercent float64) (low, high float64) {
	return kg / (1 + highPercent/100), kg / (1 + lowPercent/100)
}
