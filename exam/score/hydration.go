package score

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Band is how much fluid the signs together point to. A single percentage would
// pretend to more than an exam can give.
type Band int

// The bands, in percent of body weight.
const (
	NoLoss Band = iota
	About5
	About8
	TenOrMore
)

// String is the band for a person.
func (b Band) String() string {
	return [...]string{"none to be seen", "about 5 %", "about 8 %", "10 % or more"}[min(max(b, NoLoss), TenOrMore)]
}

// Percent is the figure that stands for the band in arithmetic; 0 for none.
func (b Band) Percent() float64 { return [...]float64{0, 5, 8, 10}[min(max(b, NoLoss), TenOrMore)] }

// Litres says what the band comes to for a body weight in kg: percent times kg
// over 100 (MSD Veterinary Manual, fluid needs in dehydrated horses). Empty for
// no loss or no weight.
func (b Band) Litres(kg float64) string {
	if b <= NoLoss || !(kg > 0) || kg > 1600 {
		return ""
	}
	word := "about"
	if b == TenOrMore {
		word = "from"
	}
	return fmt.Sprintf("%s %s L (%s %% of %s kg)", word, notation.FormatNumber(b.Percent()*kg/100, 1), notation.FormatNumber(b.Percent(), 0), notation.FormatNumber(kg, 0))
}

// HydrationSigns are the signs of fluid loss that were looked for; nil or empty
// where one was not. Words are the choice keys of the steps gum.moisture and
// jugular.fill.
type HydrationSigns struct {
	Class      ranges.Class
	Stirred    []exam.State // worked, excited …: then the heart does not count
	RefillS    *float64
	Moisture   string
	Heart      *float64 // /min
	Jugular    string
	EyesSunken *bool
	TentS      *float64
}

// Hydration is the band with the signs that drove it.
type Hydration struct {
	Result
	Known bool // at least two signs beside the skin tent were seen
	Band  Band
	Drove []string // the signs that reach the band
	Alone ItemName // a sign that points further than any other; empty for none
}

func hydrationBasis() Basis {
	return Basis{
		Name:  "Fluid loss",
		Range: "none to be seen, about 5, about 8, 10 % or more of body weight",
		Source: "signs by percent as reprinted in equine critical-care chapters (Hardy, in Equine Internal Medicine), not read; " +
			"jugular filling: University of Pennsylvania, perfusion; what shows below 3 to 5 %: SAEVA Proceedings 2015",
		Evidence: ranges.FromMemory,
		Note: "The band is what two signs agree on. Skin tent never makes a band alone: in 50 working horses it followed neither " +
			"water intake nor plasma osmolality (Pritchard et al., Equine Vet J 2008). Weight lost since yesterday is the better measure.",
	}
}

type vote struct {
	item Item
	band Band
	tent bool
}

// HydrationBand finds the band that at least two signs reach. With fewer than
// two signs beside the skin tent no band is known.
func HydrationBand(s HydrationSigns) Hydration {
	h := Hydration{Result: Result{Basis: hydrationBasis()}}
	var votes []vote
	for _, v := range []vote{refillVote(s), moistureVote(s), heartVote(s), jugularVote(s), eyesVote(s), tentVote(s)} {
		if !v.item.Open {
			v.item.Count, v.item.Says = float64(v.band), v.band.String()
			if v.tent {
				v.item.Says += "; counts only beside another sign"
			}
			votes = append(votes, v)
		}
		h.Items = append(h.Items, v.item)
	}
	seen := slices.DeleteFunc(slices.Clone(votes), func(v vote) bool { return v.tent })
	if len(seen) < 2 {
		h.Words = "not known: at least two of gum refill, gum moisture, heart rate, jugular filling and eyes are needed"
		return h
	}
	slices.SortStableFunc(votes, func(a, b vote) int { return int(b.band - a.band) })
	h.Known, h.Band = true, votes[1].band
	for _, v := range votes {
		if v.band >= h.Band && h.Band > NoLoss {
			h.Drove = append(h.Drove, v.item.Name.String()+" "+v.item.Found)
		}
	}
	if votes[0].band > votes[1].band {
		h.Alone = votes[0].item.Name
	}
	h.Words = h.words(votes[0].band)
	return h
}

func (h Hydration) words(highest Band) string {
	tent := h.Alone == itemSkinTent
	words := h.Band.String()
	switch {
	case h.Band > NoLoss:
		words += ", from " + strings.Join(h.Drove, ", ")
	case h.Alone != "" && !tent:
		words = "no two signs agree on any" // "none to be seen" would hide the one that speaks
	default:
		words += "; a loss of up to 3 to 5 % does not show"
	}
	switch {
	case tent:
		words += "; the skin tent points further, and is never used alone"
	case h.Alone != "":
		words += fmt.Sprintf("; by %s alone %s: look again", h.Alone, highest)
	}
	return words
}

func bandAt(v float64, edges [3]float64) Band {
	b := NoLoss
	for _, edge := range edges {
		if v >= edge {
			b++
		}
	}
	return b
}

func refillVote(s HydrationSigns) vote {
	v, ok := number(s.RefillS)
	if !ok || v < 0 {
		return unseen(itemRefill, "not timed")
	}
	band := bandAt(v, [3]float64{2 + 1e-9, 3, 4})
	return vote{item: Item{Name: itemRefill, Found: text(v, notation.Seconds)}, band: band}
}

func moistureVote(s HydrationSigns) vote {
	band, ok := map[string]Band{"moist": NoLoss, "tacky": About5, "dry": About8}[s.Moisture]
	if !ok {
		return unseen(itemMoisture, "not felt")
	}
	return vote{item: Item{Name: itemMoisture, Found: s.Moisture}, band: band}
}

// heartVote counts the heart of a grown light or draft horse at rest only: the
// published figures are theirs, and pain, fever and work raise it as well.
func heartVote(s HydrationSigns) vote {
	v, ok := number(s.Heart)
	switch {
	case !ok || v <= 0:
		return unseen(itemHeart, "not counted")
	case s.Class != ranges.AdultLight && s.Class != ranges.Draft:
		return open(itemHeart, "no published figures for this class ("+s.Class.String()+")")
	case len(s.Stirred) > 0:
		return open(itemHeart, fmt.Sprintf("the horse was not at rest (%s); count again", s.Stirred[0]))
	}
	band := bandAt(v, [3]float64{44 + 1e-9, 60 + 1e-9, 80 + 1e-9})
	return vote{item: Item{Name: itemHeart, Found: text(v, notation.PerMinute)}, band: band}
}

// jugularVote: slow filling goes with a low volume (University of Pennsylvania);
// which band it stands for is our own.
func jugularVote(s HydrationSigns) vote {
	band, ok := map[string]Band{"prompt": NoLoss, "slow": About5, "none": About8}[s.Jugular]
	if !ok {
		return unseen(itemJugular, "not checked")
	}
	found := map[string]string{"prompt": "prompt", "slow": "slow", "none": "does not fill"}[s.Jugular]
	return vote{item: Item{Name: itemJugular, Found: found}, band: band}
}

func eyesVote(s HydrationSigns) vote {
	if s.EyesSunken == nil {
		return unseen(itemEyes, "not said whether sunken")
	}
	if *s.EyesSunken {
		return vote{item: Item{Name: itemEyes, Found: "sunken"}, band: TenOrMore}
	}
	return vote{item: Item{Name: itemEyes, Found: "not sunken"}}
}

// tented are the classes for which a time of the skin tent is held: of donkeys, mules and young foals none was read.
var tented = []ranges.Class{
	ranges.AdultLight, ranges.MareInFoal, ranges.Draft, ranges.Pony, ranges.Miniature, ranges.SmallMareInFoal, ranges.Yearling, ranges.TwoThree,
}

func tentVote(s HydrationSigns) vote {
	v, ok := number(s.TentS)
	switch {
	case !ok || v < 0:
		return unseen(itemSkinTent, "not timed")
	case !slices.Contains(tented, s.Class):
		return open(itemSkinTent, "no published figures for this class ("+s.Class.String()+")")
	}
	return vote{item: Item{Name: itemSkinTent, Found: text(v, notation.Seconds)}, band: bandAt(v, [3]float64{2, 3 + 1e-9, 5 + 1e-9}), tent: true}
}

// open is an item that nothing is known of; unseen one that nobody looked at.
func open(name ItemName, why string) vote { return vote{item: Item{Name: name, Says: why, Open: true}} }

func unseen(name ItemName, why string) vote {
	return vote{item: Item{Name: name, Says: why, Open: true, Unseen: true}}
}
