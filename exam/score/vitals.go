package score

import (
	"fmt"
	"math"

	"loosebox/exam"
	"loosebox/ranges"
)

// Vitals are what the counts of this file are made from; nil where something was
// not seen or not measured.
type Vitals struct {
	Class         ranges.Class
	Heart         *float64 // /min
	Breaths       *float64 // /min
	TempC         *float64
	GumsPink      *bool
	GeneralGrade  *int     // 0 bright, 1 mildly, 2 moderately, 3 severely reduced
	MembraneGrade *int     // 0 pinkish, 1 mildly, 2 moderately, 3 very red or with a dark rim
	CalciumMmol   *float64 // ionised, mmol/L, from a laboratory
	WhiteCells    *float64 // x10^9/L, from a laboratory
}

// SIRSCount is how many items of a published list lie outside their figures.
type SIRSCount struct {
	Result
	Outside, Seen int
}

// SIRSItems counts which of the four items of the published list that can be
// seen in a stable lie outside its figures; white cells and lactate need a
// laboratory and stay open. It is a count, not what the list is used for. The
// error is a *exam.Refusal: the list was made on grown horses.
func SIRSItems(v Vitals) (SIRSCount, error) {
	if !grownHorse(v.Class) {
		return SIRSCount{}, notMadeFor("the list", v.Class)
	}
	c := SIRSCount{Result: Result{Basis: Basis{
		Name: "SIRS items seen", Range: "0 to 4 items that can be seen, of 6 published",
		Source:   "items: Roy et al., J Vet Intern Med 2017;31:582-592; gum colour and lactate added as in Nocera et al., Animals 2021;11:2015. The figures were not read",
		Evidence: ranges.FromMemory,
		Note:     "A count and no more: it names no illness. Other papers use other figures. White cells and lactate need a laboratory.",
	}}}
	c.add("heart rate", v.Heart, exam.PerMinute, "over 52 /min", func(x float64) bool { return x > 52 })
	c.add("breathing rate", v.Breaths, exam.PerMinute, "over 20 /min", func(x float64) bool { return x > 20 })
	c.add("temperature", v.TempC, exam.Celsius, "under 37 or over 38.5 C", func(x float64) bool { return tenth(x) < 37 || tenth(x) > 38.5 })
	if v.GumsPink == nil {
		c.Items = append(c.Items, Item{Name: "gum colour", Says: "not looked at", Open: true})
	} else {
		pink := 0.0
		if *v.GumsPink {
			pink = 1
		}
		c.add("gum colour", &pink, exam.NoUnit, "not pink", func(x float64) bool { return x == 0 })
		c.Items[len(c.Items)-1].Found = map[bool]string{true: "pink", false: "not pink"}[*v.GumsPink]
	}
	c.Items = append(c.Items, Item{Name: "white cells", Says: "needs a laboratory", Open: true}, Item{Name: "lactate", Says: "needs a laboratory", Open: true})
	c.Words = fmt.Sprintf("%d of %d items seen lie outside the published figures", c.Outside, c.Seen)
	return c, nil
}

func (c *SIRSCount) add(name string, v *float64, u exam.Unit, limit string, outside func(float64) bool) {
	x, ok := number(v)
	if !ok {
		c.Items = append(c.Items, Item{Name: name, Says: "not measured", Open: true})
		return
	}
	c.Seen++
	item := Item{Name: name, Found: text(x, u), Says: "inside (outside is " + limit + ")"}
	if outside(x) {
		item.Says, item.Count = "outside ("+limit+")", 1
		c.Outside++
	}
	c.Items = append(c.Items, item)
}

// BandScore is the sum of the published bands. With items open it lies between
// Low and High.
type BandScore struct {
	Result
	Low, High int
}

// Bands adds up the published bands of general state, heart, breaths,
// temperature and membranes; ionised calcium and white cells come from a
// laboratory. What the table prints no band for stays open. The error is a
// *exam.Refusal: the table was made on grown horses.
func Bands(v Vitals) (BandScore, error) {
	if !grownHorse(v.Class) {
		return BandScore{}, notMadeFor("the table", v.Class)
	}
	s := BandScore{Result: Result{Basis: Basis{
		Name: "Seven-item band score", Range: "0 to 19",
		Source:   "Breuer and Schusser, modified, as printed in Mediators Inflamm 2021, 9501478, table 1",
		Evidence: ranges.Published,
		Note:     "The table groups sums as up to 6, 7 to 9, 10 and more of 19. What they are used for is the veterinarian's.",
	}}}
	s.grade("general state", v.GeneralGrade, [...]string{"bright", "mildly reduced", "moderately reduced", "severely reduced"})
	s.band("heart rate", v.Heart, exam.PerMinute, math.Round, heartBands())
	s.band("breathing rate", v.Breaths, exam.PerMinute, math.Round, breathBands())
	s.band("temperature", v.TempC, exam.Celsius, tenth, tempBands())
	s.grade("membranes", v.MembraneGrade, [...]string{"pinkish", "mildly red", "moderately red", "very red, or a dark rim"})
	s.band("ionised calcium", v.CalciumMmol, "mmol/L", func(x float64) float64 { return x }, calciumBands())
	s.band("white cells", v.WhiteCells, "x10^9/L", tenth, whiteBands())
	s.Words = fmt.Sprintf("%d of 19", s.Low)
	if s.High > s.Low {
		s.Words = fmt.Sprintf("%d to %d of 19, as some items are open", s.Low, s.High)
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

func (s *BandScore) band(name string, v *float64, u exam.Unit, step func(float64) float64, table []printed) {
	most := 0
	for _, p := range table {
		most = max(most, p.points)
	}
	x, ok := number(v)
	if !ok {
		s.leave(Item{Name: name, Says: fmt.Sprintf("open, 0 to %d points", most), Open: true}, most)
		return
	}
	const slack = 1e-9
	for _, p := range table {
		if at := step(x); at >= p.low-slack && at <= p.high+slack {
			s.take(Item{Name: name, Found: exam.Quantity{Value: x, Unit: u}.Text(2), Says: points(p.points)}, p.points)
			return
		}
	}
	s.leave(Item{Name: name, Found: exam.Quantity{Value: x, Unit: u}.Text(2), Says: fmt.Sprintf("open: the table prints no band for it, 0 to %d points", most), Open: true}, most)
}

func (s *BandScore) grade(name string, g *int, words [4]string) {
	if g == nil || *g < 0 || *g > 3 {
		s.leave(Item{Name: name, Says: "open, 0 to 3 points", Open: true}, 3)
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
