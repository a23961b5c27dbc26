package score

import (
	"fmt"
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/exam/weight"
	"loosebox/ranges"
)

// Condition is the score of the six areas together.
type Condition struct {
	Result
	Score float64 // to the nearest half, half-way upwards
	Mean  float64 // of the six areas, 1 to 9
}

func conditionBasis() Basis {
	return Basis{
		Name: "Condition, six areas", Range: "1 to 9, not 0 to 5",
		Source:   "Henneke et al., Equine Vet J 1983;15:371-372; areas and steps read in a copy",
		Evidence: ranges.Published, Note: "That the score is the mean of the areas is common practice.",
	}
}

// ConditionScore puts the six areas together, by their keys: their mean, to the
// nearest half. Scores go from 1 to 9, halves allowed. The error is a
// *notation.Refusal: a score is missing or impossible.
func ConditionScore(areas map[string]float64) (Condition, error) {
	step := exam.Step{Name: "Condition", Kind: exam.KindNumber, Parts: steps.ConditionParts()}
	v, err := step.PartsValue(areas)
	if err != nil {
		return Condition{}, err
	}
	c := Condition{Result: Result{Basis: conditionBasis()}, Score: v.Number.Value}
	for _, a := range step.Parts.List {
		c.Mean += areas[a.Key] / float64(len(step.Parts.List))
		c.Items = append(c.Items, Item{Name: ItemName(a.Words), Found: notation.FormatNumber(areas[a.Key], 1), Count: areas[a.Key]})
	}
	apart := 0
	for i := range c.Items {
		c.Items[i].Says = "as the others"
		if d := c.Items[i].Count - c.Mean; math.Abs(d) >= 1.5 {
			c.Items[i].Says = map[bool]string{true: "well above the others", false: "well below the others"}[d > 0]
			apart++
		}
	}
	c.Words = fmt.Sprintf("%s (mean of six areas %s)", notation.FormatNumber(c.Score, 1), notation.FormatNumber(c.Mean, 2))
	if apart > 0 {
		c.Words += "; the areas do not agree, write them all down"
	}
	return c, nil
}

// Crest is one step of the score of the neck's crest.
type Crest struct {
	Score    int
	Words    string
	Evidence ranges.Evidence
}

// Crests lists the steps of the score of the neck's crest.
func Crests() []Crest {
	return []Crest{
		{0, "nothing seen or felt", ranges.PracticePage},
		{1, "not seen, a slight filling felt", ranges.FromMemory},
		{2, "seen, even from poll to withers, fits the hand, bends from side to side", ranges.FromMemory},
		{3, "thick, mounded in the middle, fills the hand, getting stiff", ranges.FromMemory},
		{4, "very thick, cannot be cupped or bent, may be creased", ranges.FromMemory},
		{5, "fallen over to one side for good", ranges.PracticePage},
	}
}

func crestBasis() Basis {
	return Basis{
		Name: "Crest of the neck", Range: "0 to 5",
		Source:   "Carter et al., Vet J 2009;179:204-210 (citation from memory); called cresty from 3: Giles et al., BMC Vet Res 2015;11:13",
		Evidence: ranges.FromMemory, Note: "Scores were higher at the end of winter than of summer (Giles et al. 2015).",
	}
}

// CrestScore is the score of the neck's crest, 0 to 5. The error is a
// *notation.Refusal.
func CrestScore(score int) (Result, error) {
	if score < 0 || score > 5 {
		return Result{}, &notation.Refusal{Why: fmt.Sprintf("%d is no score of the crest: 0 to 5", score)}
	}
	c := Crests()[score]
	r := Result{
		Basis: crestBasis(),
		Words: fmt.Sprintf("%d, %s", c.Score, c.Words),
		Items: []Item{{Name: itemCrest, Found: fmt.Sprint(c.Score), Says: c.Words, Count: float64(c.Score)}},
	}
	if r.Evidence = c.Evidence; c.Evidence == ranges.PracticePage {
		r.Source = "a press page (myseniorhorse.com) on Carter et al., Vet J 2009; called cresty from 3: Giles et al., BMC Vet Res 2015;11:13"
	}
	if score >= 3 {
		r.Words += "; the literature calls 3 and more cresty"
	}
	return r, nil
}

// NeckToHeight is the neck's girth over the height at the withers, both in cm.
// The error is a *notation.Refusal: a measure is missing or impossible, or no limit
// is held for the kind of animal.
func NeckToHeight(kind exam.AnimalKind, neckCm, heightCm float64) (Result, error) {
	m := weight.Measures{NeckCm: neckCm, HeightCm: heightCm}
	if err := weight.Plausible(m); err != nil {
		return Result{}, err
	}
	ratio, ok := weight.NeckToHeight(kind, m)
	switch {
	case !ok && limited(kind):
		return Result{}, &notation.Refusal{Why: "the ratio needs the girth of the neck and the height at the withers"}
	case !ok:
		return Result{}, &notation.Refusal{Why: fmt.Sprintf("no published limit is held for a %s, only for horses and ponies", kind)}
	}
	side := "up to"
	if ratio.Above {
		side = "above"
	}
	limit := notation.FormatNumber(ratio.Limit, 2)
	return Result{
		Basis: Basis{Name: "Neck to height", Range: "a ratio; above " + limit + " a neck is called cresty", Source: ratio.Source, Evidence: ranges.Published},
		Words: fmt.Sprintf("%s, %s the limit of %s for a %s", notation.FormatNumber(ratio.Ratio, 3), side, limit, kind),
		Items: neckItems(neckCm, heightCm),
	}, nil
}

func neckItems(neckCm, heightCm float64) []Item {
	return []Item{
		{Name: itemNeck, Found: text(neckCm, notation.Centimetre), Says: "half-way between poll and withers", Count: neckCm},
		{Name: itemHeight, Found: text(heightCm, notation.Centimetre), Says: "at the withers", Count: heightCm},
	}
}

// limited says that a published limit of the ratio is held for the kind.
func limited(kind exam.AnimalKind) bool { return kind == exam.AnimalHorse || kind == exam.AnimalPony }
