package weight

import (
	"fmt"
	"math"

	"loosebox/exam/notation"
)

// Measure names one reading of the tape or the measuring stick. The words are
// also the keys of exam.Weight.Measures.
type Measure string

// The measures, in the order in which they are asked.
const (
	Girth      Measure = "girth"
	GirthAgain Measure = "girth again"
	Girth12    Measure = "girth at the 12th rib space"
	Girth18    Measure = "girth at the 18th rib"
	NavelGirth Measure = "girth at the navel"
	Length     Measure = "length"
	Height     Measure = "height"
	Neck       Measure = "neck"
	Carpus     Measure = "carpus"
	Foreleg    Measure = "foreleg"
)

// AllMeasures lists every measure in the order in which they are asked.
func AllMeasures() []Measure {
	return []Measure{Girth, GirthAgain, Girth12, Girth18, NavelGirth, Length, Height, Neck, Carpus, Foreleg}
}

// LengthFrom says where the length was taken from and how; it always ends at
// the point of the buttock.
type LengthFrom string

// The ways of taking the length.
const (
	FromUnsaid           LengthFrom = ""
	FromShoulder         LengthFrom = "shoulder"
	FromShoulderWrap     LengthFrom = "shoulder-wrap"
	FromShoulderStraight LengthFrom = "shoulder-straight"
	FromElbow            LengthFrom = "elbow"
)

// LengthsFrom lists the ways of taking the length that a person may name.
func LengthsFrom() []LengthFrom {
	return []LengthFrom{FromShoulder, FromShoulderWrap, FromShoulderStraight, FromElbow}
}

// Words says the way of taking the length for a person.
func (f LengthFrom) Words() string {
	switch f {
	case FromShoulder:
		return "from the point of the shoulder to the point of the buttock"
	case FromShoulderWrap:
		return "from the point of the shoulder, the tape following the curve round to the point of the buttock"
	case FromShoulderStraight:
		return "from the point of the shoulder straight back to a vertical line at the point of the buttock"
	case FromElbow:
		return "from the point of the elbow to the point of the buttock"
	case FromUnsaid:
	}
	return "not said from where"
}

// Measures are the readings of one animal in centimetres; 0 is not taken.
type Measures struct {
	GirthCm      float64 // heart girth
	GirthAgainCm float64 // heart girth, second reading; the mean of the two counts
	LengthCm     float64
	LengthFrom   LengthFrom
	HeightCm     float64 // ground to the top of the withers
	NeckCm       float64 // half-way between poll and withers
	NavelGirthCm float64
	CarpusCm     float64 // around the knee of the foreleg, not the cannon below it
	ForelegCm    float64
	Girth12Cm    float64 // at the 12th intercostal space
	Girth18Cm    float64 // at the 18th rib

	// Typed are the units that the readings were typed in, to find the likely slip; nil where that is not known.
	Typed map[Measure]notation.Unit
}

// field is where a measure is kept; nil for an unknown one.
func (m *Measures) field(of Measure) *float64 {
	switch of {
	case Girth:
		return &m.GirthCm
	case GirthAgain:
		return &m.GirthAgainCm
	case Girth12:
		return &m.Girth12Cm
	case Girth18:
		return &m.Girth18Cm
	case NavelGirth:
		return &m.NavelGirthCm
	case Length:
		return &m.LengthCm
	case Height:
		return &m.HeightCm
	case Neck:
		return &m.NeckCm
	case Carpus:
		return &m.CarpusCm
	case Foreleg:
		return &m.ForelegCm
	}
	return nil
}

// Cm is the measure in centimetres, the girth as the mean of its readings;
// false where it was not taken.
func (m Measures) Cm(of Measure) (float64, bool) {
	if of == Girth && m.GirthCm > 0 && m.GirthAgainCm > 0 {
		return (m.GirthCm + m.GirthAgainCm) / 2, true
	}
	if of == Girth && m.GirthCm == 0 {
		return m.GirthAgainCm, m.GirthAgainCm > 0
	}
	at := m.field(of)
	if at == nil {
		return 0, false
	}
	return *at, *at > 0
}

// FromReadings puts readings as they were typed, in cm or in, into Measures.
// The keys are those of AllMeasures. Errors are *notation.Refusal.
func FromReadings(readings map[Measure]notation.Quantity, from LengthFrom) (Measures, error) {
	m := Measures{LengthFrom: from, Typed: map[Measure]notation.Unit{}}
	for of, q := range readings {
		at := m.field(of)
		if at == nil {
			return Measures{}, &notation.Refusal{Typed: string(of), Why: fmt.Sprintf("%q is no measure that is known here", notation.CleanLine(string(of), 40))}
		}
		cm, ok := q.In(notation.Centimetre)
		if !ok || math.IsNaN(cm.Value) || math.IsInf(cm.Value, 0) {
			return Measures{}, &notation.Refusal{Typed: q.Text(2), Why: fmt.Sprintf("the %s is measured in cm or in, not as %s", of, q.Text(2))}
		}
		*at, m.Typed[of] = cm.Value, q.Unit
	}
	return m, nil
}
