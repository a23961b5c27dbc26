package score

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// Grimace is the sum of the face's signs. Where signs were not seen the sum lies
// between Low and High.
type Grimace struct {
	Result
	Low, High int
}

func grimaceBasis() Basis {
	return Basis{
		Name: "Grimace, six signs", Range: "0 to 12, each sign 0 to 2",
		Source: "Dalla Costa et al., PLoS ONE 2014;9:e92281", Evidence: ranges.Published,
		Note: "It is the total of all six signs. The paper sets no action limit. Donkeys and draft horses show little.",
	}
}

// GrimaceScore adds the signs up, by their keys. A sign that is missing from
// points was not seen and stays open. The error is a *notation.Refusal.
func GrimaceScore(points map[string]float64) (Grimace, error) {
	g := Grimace{Result: Result{Basis: grimaceBasis()}}
	if len(points) > 0 {
		step := exam.Step{Name: "Grimace", Kind: exam.KindNumber, Parts: steps.GrimaceParts()}
		if _, err := step.PartsValue(points); err != nil {
			return Grimace{}, err
		}
	}
	for _, sign := range steps.GrimaceParts().List {
		p, ok := points[sign.Key]
		if !ok {
			g.High += 2
			g.Items = append(g.Items, Item{Name: ItemName(sign.Words), Says: "not seen", Open: true})
			continue
		}
		g.Low += int(p)
		g.High += int(p)
		g.Items = append(g.Items, Item{Name: ItemName(sign.Words), Found: notation.FormatNumber(p, 0), Says: [...]string{"absent", "moderate", "obvious"}[int(p)], Count: p})
	}
	g.Words = fmt.Sprintf("%d of 12", g.Low)
	if g.High > g.Low {
		g.Words = openWords(g.Items, "score") // the paper adds up all six
	}
	return g, nil
}
