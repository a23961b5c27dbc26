package score

import (
	"fmt"
	"math"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// BandScore is the sum of the published bands. With items open it lies between
// Low and High.
type BandScore struct {
	Result
	Low, High int
	// Enough says that the score can be used as published: every item is known, or
	// those that are open cannot move it out of its printed group.
	Enough bool
}

// group is the printed group of a sum: up to 6, 7 to 9, 10 and more.
func group(sum int) int {
	switch {
	case sum <= 6:
		return 0
	case sum <= 9:
		return 1
	}
	return 2
}

// Bands adds up the published bands of general state, heart, breaths,
// temperature and membranes; ionised calcium and white cells come from a
// laboratory. What the table prints no band for stays open. The error is a
// *notation.Refusal: the table was made on grown horses.
func Bands(v Vitals) (BandScore, error) {
	if !grownHorse(v.Class) {
		return BandScore{}, notMadeFor("the table", v.Class)
	}
	s := BandScore{Result: Result{Basis: Basis{
		Name: "Seven-item band score", Range: "0 to 19",
		Source:   "Breuer and Schusser, modified, as printed in Mediators Inflamm 2021, 9501478, table 1",
		Evidence: ranges.Published,
		Note:     "The table groups totals as up to 6, 7 to 9, 10 and more of 19. The veterinarian decides what they mean.",
	}}}
	s.grade(itemState, v.GeneralGrade, [...]string{"bright", "mildly reduced", "moderately reduced", "severely reduced"})
	s.band(itemHeart, v.Heart, notation.PerMinute, math.Round, heartBands())
	s.band(itemBreath, v.Breaths, notation.PerMinute, math.Round, breathBands())
	s.band(itemTemp, v.TempC, notation.Celsius, tenth, tempBands())
	s.grade(itemMembranes, v.MembraneGrade, [...]string{"pinkish", "mildly red", "moderately red", "very red, or a dark rim"})
	s.band(itemCalcium, v.CalciumMmol, "mmol/L", func(x float64) float64 { return x }, calciumBands())
	s.band(itemWhiteCells, v.WhiteCells, "x10^9/L", tenth, whiteBands())
	s.Enough = group(s.Low) == group(s.High)
	switch {
	case !s.Enough:
		s.Words = openWords(s.Items, "score")
	case s.High > s.Low:
		s.Words = fmt.Sprintf("%d to %d of 19: the missing items do not change its group (%s)", s.Low, s.High, [...]string{"up to 6", "7 to 9", "10 and more"}[group(s.Low)])
	default:
		s.Words = fmt.Sprintf("%d of 19", s.Low)
	}
	return s, nil
}

// printed is one printed band; ends included.
type printed struct {
	low, high float64
	points    int
}

func heartBands() []printed {
	return []printed{{28, 40, 0}, {41, 60, 1}, {61, 80, 2}, {81, math.Inf(1), 3}}
}

func breathBands() []printed {
	return []printed{{10, 14, 0}, {15, 25, 1}, {26, 45, 2}, {46, math.Inf(1), 3}}
}

func tempBands() []printed {
	return []printed{{37.5, 38.0, 0}, {37.0, 37.4, 1}, {38.1, 38.5, 1}, {36.5, 36.9, 2}, {38.6, 39.0, 2}, {math.Inf(-1), 36.4, 3}, {39.1, math.Inf(1), 3}}
}

// calciumBands print one point below 1.5 and nothing above 1.8.
func calciumBands() []printed {
	return []printed{{1.5, 1.8, 0}, {0, math.Nextafter(1.5, 0), 1}}
}

func whiteBands() []printed {
	return []printed{{4.9, 12.6, 0}, {4.0, 4.8, 1}, {12.7, 15.0, 1}, {3.0, 3.9, 2}, {15.1, 20.0, 2}, {0, 2.9, 3}, {20.1, math.Inf(1), 3}}
}

func (s *BandScore) band(name ItemName, v *float64, u notation.Unit, step func(float64) float64, table []printed) {
	most := 0
	for _, p := range table {
		most = max(most, p.points)
	}
	x, ok := number(v)
	if !ok {
		why, unseen := "not measured", true
		if name == itemCalcium || name == itemWhiteCells {
			why, unseen = "needs a laboratory", false
		}
		worth := "0 to " + points(most)
		s.leave(Item{Name: name, Says: why + ", " + worth, Open: true, Unseen: unseen, Worth: worth}, most)
		return
	}
	const slack = 1e-9
	for _, p := range table {
		if at := step(x); at >= p.low-slack && at <= p.high+slack {
			s.take(Item{Name: name, Found: notation.Quantity{Value: x, Unit: u}.Text(2), Says: points(p.points)}, p.points)
			return
		}
	}
	s.leave(Item{Name: name, Found: notation.Quantity{Value: x, Unit: u}.Text(2), Says: fmt.Sprintf("open: the table prints no band for it, 0 to %d points", most), Open: true}, most)
}

func (s *BandScore) grade(name ItemName, g *int, words [4]string) {
	if g == nil || *g < 0 || *g > 3 {
		s.leave(Item{Name: name, Says: "not looked at, 0 to 3 points", Open: true, Unseen: true, Worth: "0 to 3 points"}, 3)
		return
	}
	s.take(Item{Name: name, Found: words[*g], Says: points(*g)}, *g)
}

func (s *BandScore) take(i Item, p int) {
	i.Count = float64(p)
	s.Low, s.High = s.Low+p, s.High+p
	s.Items = append(s.Items, i)
}

func (s *BandScore) leave(i Item, most int) {
	s.High += most
	s.Items = append(s.Items, i)
}

func points(n int) string {
	if n == 1 {
		return "1 point"
	}
	return fmt.Sprintf("%d points", n)
}
