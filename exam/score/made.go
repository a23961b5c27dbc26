package score

import (
	"fmt"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func at(step exam.StepID) exam.Key { return exam.Key{Step: step} }

func fluidLoss(v exam.Visit, earlier []exam.Visit) (Score, bool) {
	signs := HydrationSignsOf(v)
	if signs.RefillS == nil && signs.Moisture == "" && signs.Jugular == "" && signs.EyesSunken == nil && signs.TentS == nil {
		return Score{}, false
	}
	h := HydrationBand(signs)
	s := Score{ID: "fluid_loss", Result: h.Result, Unit: "%", At: at(first(v, "gum.refill", "gum.moisture", "jugular.fill", "skin.tent", "eye.look"))}
	if !h.Known {
		return s, true
	}
	percent := h.Band.Percent()
	s.Value = &percent
	if h.Band == NoLoss {
		return s, true
	}
	kg, from := lastWeight(v, earlier)
	if litres := h.Band.Litres(kg); litres != "" {
		s.Words += "; " + litresOf(litres, from)
		s.Items = append(s.Items, Item{Name: itemWeight, Found: text(kg, notation.Kilograms), Says: from, Count: kg})
	} else {
		s.Items = append(s.Items, Item{Name: itemWeight, Says: "not known, so no liters", Open: true})
	}
	return s, true
}

// litresOf marks litres that rest on a guess or on an earlier visit's weight.
func litresOf(litres, from string) string {
	guess := strings.HasPrefix(from, exam.WeightEye.String())
	if !guess && strings.HasSuffix(from, "this visit") {
		return litres
	}
	sign := ", "
	if guess {
		sign = " " // "450 kg by eye"
	}
	return strings.TrimSuffix(litres, ")") + sign + from + ")"
}

// lastWeight is the newest weight in kg with how and when it was found; 0 where
// none is known.
func lastWeight(v exam.Visit, earlier []exam.Visit) (kg float64, from string) {
	for i, visit := range append([]exam.Visit{v}, earlier...) {
		f, ok := visit.First("weight.body")
		if !ok {
			continue
		}
		if kg, ok = f.Value.In(notation.Kilograms); !ok {
			continue
		}
		from = "this visit"
		if i > 0 {
			from = "on " + exam.DatesOf(v, visit).Show(visit.OpenedAt)
		}
		if f.Value.Weight != nil {
			from = f.Value.Weight.Method.String() + ", " + from
		}
		return kg, from
	}
	return 0, ""
}

// first is the first of the steps that was answered.
func first(v exam.Visit, steps ...exam.StepID) exam.StepID {
	for _, id := range steps {
		if _, ok := v.First(id); ok {
			return id
		}
	}
	return ""
}

func grimace(v exam.Visit, _ []exam.Visit) (Score, bool) {
	f, ok := v.First("pain.grimace")
	if !ok || f.Value.Number == nil {
		return Score{}, false
	}
	s := Score{ID: "grimace", Result: Result{Basis: grimaceBasis()}, Unit: notation.Points, At: f.Key()}
	if len(f.Value.Parts) == 0 {
		n, ok := f.Value.In(notation.Points)
		if !ok {
			return Score{}, false
		}
		s.Value = &n
		s.Words = notation.FormatNumber(n, 0) + " of 12, given at once"
		s.Items = []Item{{Name: itemWholeFace, Found: notation.FormatNumber(n, 0), Says: "the six signs were not scored on their own", Count: n}}
		return s, true
	}
	g, err := GrimaceScore(f.Value.Parts)
	if err != nil {
		return Score{}, false
	}
	s.Result = g.Result
	if g.Low == g.High {
		s.between(g.Low, g.High)
	}
	return s, true
}

// between sets the figure, or the ends that open items leave.
func (s *Score) between(low, high int) {
	a, b := float64(low), float64(high)
	if low == high {
		s.Value = &a
		return
	}
	s.Low, s.High = &a, &b
}

func sirs(v exam.Visit, _ []exam.Visit) (Score, bool) {
	vitals := VitalsOf(v)
	c, err := SIRSItems(vitals)
	if err != nil || !vitals.enough() {
		return Score{}, false
	}
	s := Score{ID: "sirs_items", Result: c.Result, At: at(first(v, "heart.rate", "breath.rate", "temp.rectal", "gum.colour"))}
	if c.Enough {
		n := float64(c.Outside)
		s.Value = &n
	}
	return s, true
}

func bands(v exam.Visit, _ []exam.Visit) (Score, bool) {
	vitals := VitalsOf(v)
	b, err := Bands(vitals)
	if err != nil || !vitals.enough() {
		return Score{}, false
	}
	s := Score{ID: "seven_item_bands", Result: b.Result, Unit: notation.Points, At: at(first(v, "heart.rate", "breath.rate", "temp.rectal", "gum.colour", "demeanour"))}
	if b.Enough {
		s.between(b.Low, b.High)
	}
	return s, true
}

func heat(v exam.Visit) (Score, bool) {
	c := v.Context
	if c.Air == nil || c.Humid == nil {
		return Score{}, false
	}
	h, err := HeatSum(*c.Air, *c.Humid)
	if err != nil {
		return Score{}, false
	}
	return Score{ID: "heat_sum", Result: h.Result, Value: &h.Sum, Level: h.Level}, true
}

func globe(v exam.Visit) (Score, bool) {
	if v.Context.Globe == nil {
		return Score{}, false
	}
	r, err := WetBulbGlobe(*v.Context.Globe)
	if err != nil {
		return Score{}, false
	}
	c := r.Items[0].Count
	return Score{ID: "wet_bulb_globe", Result: r, Value: &c, Unit: notation.Celsius}, true
}

// newborn sets the milestones that were asked against the birth.
func newborn(v exam.Visit, _ []exam.Visit) (Score, bool) {
	s := Score{ID: "newborn", Result: Result{Basis: newbornBasis()}}
	asked, seen, late := 0, 0, 0
	var now time.Time
	for _, m := range Milestones() {
		f, ok := v.First(m.Step)
		if !ok {
			says := "not asked"
			if f, ok := v.Finding(at(m.Step)); ok {
				says = "not done: " + notation.CleanLine(f.NotDone.String(), 0)
			}
			s.Items = append(s.Items, Item{Name: ItemName(m.Name), Says: says, Open: true})
			continue
		}
		asked++
		if s.At.Step == "" {
			s.At = f.Key()
		}
		if now.Before(f.At) {
			now = f.At
		}
		if f.Value.Has(exam.EventSeen) {
			seen++
		}
		state, why := m.Found(f, v.Horse.Birth)
		if why != "" {
			s.Items = append(s.Items, Item{Name: ItemName(m.Name), Says: why, Open: true})
			continue
		}
		if state.Level > ranges.LevelUsual {
			late++
		}
		s.Level = max(s.Level, state.Level)
		item := state.item()
		item.Open = false // not yet is an answer here
		s.Items = append(s.Items, item)
	}
	if s.At.Step == "" {
		return Score{}, false
	}
	s.Words = fmt.Sprintf("%d of %d events asked were seen, %d late", seen, asked, late)
	if b := v.Horse.Birth; b.Precision == exam.BornMinute && now.After(b.At) {
		s.Words = spell(now.Sub(b.At)) + " since foaling, " + s.Words
	}
	n := float64(late)
	s.Value = &n
	return s, true
}
