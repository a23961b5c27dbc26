package weight

import (
	"fmt"
	"math"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// BandPercent is the share of animals, in percent, that a band holds where its source gives a mean error and a spread.
const BandPercent = 90

// z95 is the 0.95 quantile of the normal distribution: five in a hundred lie below a band of 90 % and five above it.
const z95 = 1.6448536269514722

// Spread is how far an equation or a method read from the scale in one group of animals: mean and standard deviation of
// reading minus weight, in percent of the weight.
type Spread struct {
	Whom                   string // completes "in"
	Source                 string // the study; empty where Whom names it
	Animals                int    // 0: not said
	MeanPercent, SDPercent float64
	SetOn                  bool // the constants of the equation were set on these animals
	on                     part
}

// part is which animals of a kind a spread is of. The zero value is all of them.
type part int

const (
	whole     part = iota
	under15hh      // under 15 hands
	from15hh       // 15 hands and over
	young          // donkeys under two years
)

// fifteenHandsCm is 15 hands.
const fifteenHandsCm = 152.4

// ErrorBand bounds how far a reading is off.
type ErrorBand struct {
	LowPercent, HighPercent float64 // of the true weight; 0 where OffKg is given
	OffKg                   float64 // half-width in kg
	Percent                 int     // share of animals inside; 0: no study says
	Basis                   string  // where it comes from, for a person
	Bias                    string  // how far it reads off in the mean; empty where that is little or not known
}

// Of bounds the true weight where the reading is kg.
func (b ErrorBand) Of(kg float64) (low, high float64) {
	if b.OffKg > 0 {
		return max(kg-b.OffKg, kg/2), kg + b.OffKg
	}
	return band(kg, b.LowPercent, b.HighPercent)
}

// Words say the band: how far, and how many animals lay inside.
func (b ErrorBand) Words() string {
	far := fmt.Sprintf("%s to %s %% of the true weight", signed(b.LowPercent), signed(b.HighPercent))
	if b.OffKg > 0 {
		far = fmt.Sprintf("%s kg either way", notation.FormatNumber(b.OffKg, 0))
	}
	if b.Percent > 0 {
		return fmt.Sprintf("band of %d %% of animals: %s; %s", b.Percent, far, b.Basis)
	}
	return fmt.Sprintf("band: %s; %s", far, b.Basis)
}

// bandOf is the band that holds 90 % of groups taken equally, as many outside above as below: the 5th and 95th percentile
// of the mixture of normal distributions with their means and spreads. For one group that is mean ± 1.645 SD.
func bandOf(groups []Spread) ErrorBand {
	b := ErrorBand{LowPercent: tenth(quantile(groups, 0.05)), HighPercent: tenth(quantile(groups, 0.95)), Percent: BandPercent}
	said, sets := make([]string, len(groups)), 0
	for i, g := range groups {
		said[i] = g.Words()
		if g.SetOn {
			sets++
			said[i] += ", the animals that its constants were set on"
		}
	}
	b.Basis = "computed from " + strings.Join(said, "; and ")
	switch {
	case sets == len(groups):
		b.Basis += "; not checked on other animals"
	case len(groups) > 1:
		b.Basis += "; the groups count equally, and it was not checked on a third"
	}
	b.Bias = bias(groups)
	return b
}

// Words say mean and spread of one group.
func (s Spread) Words() string {
	n := ""
	if s.Animals > 0 {
		n = fmt.Sprintf("%d ", s.Animals)
	}
	from := ""
	if s.Source != "" {
		from = "; " + s.Source
	}
	return fmt.Sprintf("%s%s (mean %s %%, SD %s%s)", n, s.Whom, signed(s.MeanPercent), notation.FormatNumber(s.SDPercent, 1), from)
}

// leastBias is the mean error in percent that is said with a weight.
const leastBias = 2.0

func bias(groups []Spread) string {
	var said []string
	for _, g := range groups {
		switch far := notation.FormatNumber(math.Abs(g.MeanPercent), 1); {
		case g.MeanPercent <= -leastBias:
			said = append(said, fmt.Sprintf("%s %% low in %s", far, g.Whom))
		case g.MeanPercent >= leastBias:
			said = append(said, fmt.Sprintf("%s %% high in %s", far, g.Whom))
		}
	}
	if len(said) == 0 {
		return ""
	}
	return "on average it read " + strings.Join(said, " and ")
}

// quantile of the equal mixture, by halving.
func quantile(groups []Spread, p float64) float64 {
	low, high := -100.0, 200.0
	for range 60 {
		x, below := (low+high)/2, 0.0
		for _, g := range groups {
			below += math.Erfc((g.MeanPercent-x)/(g.SDPercent*math.Sqrt2)) / 2
		}
		if below < p*float64(len(groups)) {
			low = x
		} else {
			high = x
		}
	}
	return low
}

func tenth(v float64) float64 { return math.Round(v*10) / 10 }

// partOf is which part an animal belongs to, by its height in cm where that is known. A pony is under 15 hands.
func partOf(a Animal, heightCm float64) part {
	_, oldest := a.days()
	switch {
	case a.Kind == exam.AnimalDonkey && oldest < 2*daysPerYear:
		return young
	case a.Kind == exam.AnimalDonkey, a.Kind == exam.AnimalMule:
		return whole
	case heightCm >= fifteenHandsCm:
		return from15hh
	case heightCm > 0, a.Kind == exam.AnimalPony:
		return under15hh
	}
	return whole
}

// spreadsOf takes the groups that the animal belongs to, or else those of all animals.
func spreadsOf(all []Spread, p part) []Spread {
	var own, general []Spread
	for _, s := range all {
		switch s.on {
		case p:
			own = append(own, s)
		case whole:
			general = append(general, s)
		case under15hh, from15hh, young:
		}
	}
	if len(own) > 0 {
		return own
	}
	return general
}

// BandFor is the band of the equation for this animal: by the groups of animals that are like it, where the source tells
// them apart. Without any error in its source the band is our own, and no share is known.
func (e Equation) BandFor(a Animal, m Measures) ErrorBand {
	switch {
	case len(e.Spreads) > 0:
		return bandOf(spreadsOf(e.Spreads, partOf(a, m.HeightCm)))
	case e.SDKg > 0:
		basis := fmt.Sprintf("from an error of %s kg (root mean square) on its own animals; not checked on others", notation.FormatNumber(e.SDKg, 0))
		return ErrorBand{OffKg: z95 * e.SDKg, Percent: BandPercent, Basis: basis}
	}
	return ErrorBand{LowPercent: e.BandPercentLow, HighPercent: e.BandPercentHigh, Basis: e.BandBasis}
}
