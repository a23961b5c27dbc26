package score

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// HydrationSignsOf reads the signs of fluid loss out of a visit. Eyes count only
// where the step has the mark "sunken".
func HydrationSignsOf(v exam.Visit) HydrationSigns {
	s := HydrationSigns{
		Class: v.Class().Name, Stirred: v.Context.NotAtRest(),
		RefillS: figure(v, "gum.refill", notation.Seconds), Heart: figure(v, "heart.rate", notation.PerMinute), TentS: figure(v, "skin.tent", notation.Seconds),
		Moisture: word(v, "gum.moisture"), Jugular: word(v, "jugular.fill"),
	}
	for _, f := range v.Findings {
		if f.Step == "eye.look" && f.Done() && len(f.Value.Words) > 0 {
			sunken := f.Value.Has("sunken") || s.EyesSunken != nil && *s.EyesSunken
			s.EyesSunken = &sunken
		}
	}
	return s
}

// VitalsOf reads what the counts need out of a visit. Words that stand for one
// grade only are taken; a person is asked for the others.
func VitalsOf(v exam.Visit) Vitals {
	out := Vitals{
		Class: v.Class().Name, Heart: figure(v, "heart.rate", notation.PerMinute), Breaths: figure(v, "breath.rate", notation.PerMinute),
		TempC: figure(v, "temp.rectal", notation.Celsius),
	}
	gums := word(v, "gum.colour")
	if gums != "" && gums != "pigmented" {
		pink := gums == "pink" || gums == "palepink"
		out.GumsPink = &pink
	}
	if g, ok := map[string]int{"pink": 0, "palepink": 0, "toxicline": 3}[gums]; ok {
		out.MembraneGrade = &g
	}
	if g, ok := map[string]int{"bright": 0, "unresponsive": 3}[word(v, "demeanour")]; ok {
		out.GeneralGrade = &g
	}
	return out
}

// asked are the steps that open items wait for.
func asked() map[ItemName]exam.StepID {
	return map[ItemName]exam.StepID{
		itemState: "demeanour", itemMembranes: "gum.colour", itemGums: "gum.colour", itemHeart: "heart.rate", itemBreath: "breath.rate",
		itemTemp: "temp.rectal", itemRefill: "gum.refill", itemMoisture: "gum.moisture", itemJugular: "jugular.fill", itemEyes: "eye.look", itemSkinTent: "skin.tent",
	}
}

// lookedAt says of open items what was answered where something was: an answer
// that a score has no figure for was not left out by anybody.
func lookedAt(v exam.Visit, items []Item) []Item {
	items = slices.Clone(items)
	for i, item := range items {
		f, ok := v.First(asked()[item.Name])
		if !item.Unseen || item.Found != "" || !ok {
			continue
		}
		items[i].Found = found(f)
		items[i].Says = "looked at; no figure of this score stands for it"
		if item.Worth != "" {
			items[i].Says += ", " + item.Worth
		}
	}
	return items
}

// found is an answer in few words, for whoever has no table of steps.
func found(f exam.Finding) string {
	switch {
	case len(f.Value.Words) > 0:
		return strings.Join(f.Value.Words, ", ")
	case f.Value.Number != nil:
		return f.Value.Bound.Show(f.Value.Number.Text(1))
	}
	return "answered"
}

// figure is the number found at a step without sites; nil where there is none.
func figure(v exam.Visit, step exam.StepID, u notation.Unit) *float64 {
	f, ok := v.Finding(exam.Key{Step: step})
	if !ok || !f.Done() {
		return nil
	}
	x, ok := f.Value.In(u)
	if !ok {
		return nil
	}
	return &x
}

// word is the one choice found at a step without sites; empty where there is none.
func word(v exam.Visit, step exam.StepID) string {
	f, ok := v.Finding(exam.Key{Step: step})
	if !ok || !f.Done() || len(f.Value.Words) != 1 {
		return ""
	}
	return f.Value.Words[0]
}
