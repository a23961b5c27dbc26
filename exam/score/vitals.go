package score

import (
	"fmt"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Vitals are what the counts of this file are made from; nil where something was
// not seen or not measured.
type Vitals struct {
	Class         ranges.Class
	Heart         *float64 // /min
	Breaths       *float64 // /min
	TempC         *float64 // rectal, in Celsius
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
	// Enough says that the count can be used as published: two outside of heart,
	// breathing, temperature and white cells are enough (Roy et al. 2017), whatever
	// the others are; fewer are a count only once all three of the stable are known.
	Enough bool
}

func (c SIRSCount) enough() bool {
	outside, open := 0, 0
	for _, i := range c.Items[:3] { // heart rate, breathing rate, temperature
		outside += int(i.Count)
		if i.Open {
			open++
		}
	}
	return outside >= 2 || open == 0
}

// SIRSItems counts which of the four items of the published list that can be
// seen in a stable lie outside its figures; white cells and lactate need a
// laboratory and stay open. It is a count, not what the list is used for. The
// error is a *notation.Refusal: the list was made on grown horses.
func SIRSItems(v Vitals) (SIRSCount, error) {
	if !grownHorse(v.Class) {
		return SIRSCount{}, notMadeFor("the list", v.Class)
	}
	c := SIRSCount{Result: Result{Basis: Basis{
		Name: "Inflammation signs (SIRS)", Range: "0 to 4 signs that can be seen, of 6 published",
		Source:   "items: Roy et al., J Vet Intern Med 2017;31:582-592; gum color and lactate added as in Nocera et al., Animals 2021;11:2015. The figures were not read",
		Evidence: ranges.FromMemory,
		Note:     "Only a count: it names no illness. Other authors use other figures. White cells and lactate need a laboratory.",
	}}}
	c.add(itemHeart, v.Heart, notation.PerMinute, "over 52 /min", func(x float64) bool { return x > 52 })
	c.add(itemBreath, v.Breaths, notation.PerMinute, "over 20 /min", func(x float64) bool { return x > 20 })
	c.add(itemTemp, v.TempC, notation.Celsius, "under 37 or over 38.5 C", func(x float64) bool { return tenth(x) < 37 || tenth(x) > 38.5 })
	if v.GumsPink == nil {
		c.Items = append(c.Items, Item{Name: itemGums, Says: "not checked", Open: true, Unseen: true})
	} else {
		pink := 0.0
		if *v.GumsPink {
			pink = 1
		}
		c.add(itemGums, &pink, notation.NoUnit, "not pink", func(x float64) bool { return x == 0 })
		c.Items[len(c.Items)-1].Found = map[bool]string{true: "pink", false: "not pink"}[*v.GumsPink]
	}
	c.Items = append(c.Items, Item{Name: itemWhiteCells, Says: "needs a laboratory", Open: true}, Item{Name: itemLactate, Says: "needs a laboratory", Open: true})
	c.Words = fmt.Sprintf("%d of %d outside range", c.Outside, c.Seen)
	if c.Enough = c.enough(); !c.Enough {
		c.Words = openWords(c.Items[:3], "count")
	}
	return c, nil
}

func (c *SIRSCount) add(name ItemName, v *float64, u notation.Unit, limit string, outside func(float64) bool) {
	x, ok := number(v)
	if !ok {
		c.Items = append(c.Items, Item{Name: name, Says: "not measured", Open: true, Unseen: true})
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

// enough says that at least two of heart, breaths and temperature were measured:
// with fewer, no count and no sum is shown.
func (v Vitals) enough() bool {
	n := 0
	for _, x := range []*float64{v.Heart, v.Breaths, v.TempC} {
		if _, ok := number(x); ok {
			n++
		}
	}
	return n >= 2
}
