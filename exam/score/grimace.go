package score

import (
	"fmt"

	"loosebox/exam"
	"loosebox/ranges"
)

// GrimaceSigns lists the six signs of the face; each scores 0 absent, 1
// moderate, 2 obvious.
func GrimaceSigns() []exam.Part {
	return []exam.Part{
		{Key: "ears", Words: "ears stiffly backwards", Hint: "held stiffly, turned back, the tips further apart; not pinned flat"},
		{Key: "lids", Words: "lids tightened", Hint: "the eye partly closed; more than half closed is 2"},
		{Key: "brow", Words: "tension above the eye", Hint: "the place above the eye is drawn tight"},
		{Key: "jaw", Words: "chewing muscles stand out", Hint: "strained, they stand out on the cheek"},
		{Key: "mouth", Words: "mouth drawn, chin hard", Hint: "mouth strained, the chin stands out"},
		{Key: "nostrils", Words: "nostrils drawn, profile flat", Hint: "nostrils strained, the profile flattened"},
	}
}

// GrimaceParts says how the face is scored by signs: each from 0 to 2, and their
// sum.
func GrimaceParts() exam.Parts {
	return exam.Parts{List: GrimaceSigns(), Noun: "sign", Score: exam.Span{Low: 0, High: 2}, Says: "0 absent, 1 moderate, 2 obvious"}
}

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
		Note: "It is the sum of all six signs. The paper sets no limit from which to act. Donkeys and draft horses show little.",
	}
}

// GrimaceScore adds the signs up, by their keys. A sign that is missing from
// points was not seen and stays open. The error is a *exam.Refusal.
func GrimaceScore(points map[string]float64) (Grimace, error) {
	g := Grimace{Result: Result{Basis: grimaceBasis()}}
	if len(points) > 0 {
		step := exam.Step{Name: "Grimace", Kind: exam.KindNumber, Parts: GrimaceParts()}
		if _, err := step.PartsValue(points); err != nil {
			return Grimace{}, err
		}
	}
	for _, sign := range GrimaceSigns() {
		p, ok := points[sign.Key]
		if !ok {
			g.High += 2
			g.Items = append(g.Items, Item{Name: sign.Words, Says: "not seen", Open: true})
			continue
		}
		g.Low += int(p)
		g.High += int(p)
		g.Items = append(g.Items, Item{Name: sign.Words, Found: exam.FormatNumber(p, 0), Says: [...]string{"absent", "moderate", "obvious"}[int(p)], Count: p})
	}
	g.Words = fmt.Sprintf("%d of 12", g.Low)
	if g.High > g.Low {
		g.Words = openWords(g.Items, "score") // the paper adds up all six
	}
	return g, nil
}
