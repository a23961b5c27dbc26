package score

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/weight"
	"loosebox/ranges"
)

func condition(v exam.Visit, _ []exam.Visit) (Score, bool) {
	f, ok := v.First("condition.score")
	if !ok {
		return Score{}, false
	}
	n, ok := f.Value.In(notation.Points)
	if !ok {
		return Score{}, false
	}
	s := Score{ID: "condition", Result: Result{Basis: conditionBasis()}, Value: &n, Unit: notation.Points, At: f.Key()}
	if c, err := ConditionScore(f.Value.Parts); err == nil {
		s.Result = c.Result
	} else {
		s.Name, s.Words = "Condition", notation.FormatNumber(n, 1)+", scored at once"
		s.Items = []Item{{Name: itemWholeHorse, Found: notation.FormatNumber(n, 1), Says: "the six areas were not scored on their own", Count: n}}
		s.Note = ""
	}
	if k := v.Horse.Kind; k == exam.AnimalDonkey || k == exam.AnimalMule {
		s.Note = strings.TrimSpace(s.Note + " The scale was made on horses; charts for donkeys often run from 0 or 1 to 5.")
	}
	return s, true
}

func crest(v exam.Visit, _ []exam.Visit) (Score, bool) {
	f, ok := v.First("neck.crest")
	if !ok {
		return Score{}, false
	}
	n, ok := f.Value.In(notation.Points)
	if !ok || n != float64(int(n)) {
		return Score{}, false
	}
	r, err := CrestScore(int(n))
	if err != nil {
		return Score{}, false
	}
	return Score{ID: "crest", Result: r, Value: &n, Unit: notation.Points, At: f.Key()}, true
}

// neckToHeight takes the two measures from their steps, or from those of a
// weighing.
func neckToHeight(v exam.Visit, _ []exam.Visit) (Score, bool) {
	neck, okNeck := measure(v, "neck.girth", weight.Neck)
	height, okHeight := measure(v, "height.withers", weight.Height)
	if !okNeck || !okHeight {
		return Score{}, false
	}
	ratio := neck / height
	r, err := NeckToHeight(v.Horse.Kind, neck, height)
	if err != nil {
		if limited(v.Horse.Kind) || weight.Plausible(weight.Measures{NeckCm: neck, HeightCm: height}) != nil {
			return Score{}, false
		}
		r = Result{
			Basis: Basis{Name: "Neck to height", Range: "a ratio; limits are held for horses and ponies only", Source: weight.NeckRatioSource, Evidence: ranges.Published},
			Words: fmt.Sprintf("%s; no published limit is held for a %s", notation.FormatNumber(ratio, 3), v.Horse.Kind),
			Items: neckItems(neck, height),
		}
	}
	return Score{ID: "neck_to_height", Result: r, Value: &ratio, At: at(first(v, "neck.girth", "weight.body"))}, true
}

func measure(v exam.Visit, step exam.StepID, name weight.Measure) (float64, bool) {
	if cm := figure(v, step, notation.Centimetre); cm != nil {
		return *cm, true
	}
	f, ok := v.First("weight.body")
	if !ok || f.Value.Weight == nil {
		return 0, false
	}
	q, ok := f.Value.Weight.Measures[string(name)]
	if !ok {
		return 0, false
	}
	cm, ok := q.In(notation.Centimetre)
	return cm.Value, ok
}
