package score

import (
	"fmt"

	"loosebox/exam"
	"loosebox/ranges"
)

// GrimaceSigns lists the six signs of the face; each scores 0 not there, 1
// somewhat, 2 plain.
func GrimaceSigns() []string {
	return []string{"ears held back", "lids tightened", "tension above the eye", "chewing muscles stand out", "mouth drawn, chin hard", "nostrils drawn, profile flat"}
}

// Grimace is the sum of the face's signs. Where signs were not seen the sum lies
// between Low and High.
type Grimace struct {
	Result
	Low, High int
}

// GrimaceScore adds the signs up. A sign that is missing from points was not
// seen and stays open. The error is a *exam.Refusal.
func GrimaceScore(points map[string]int) (Grimace, error) {
	g := Grimace{Result: Result{Basis: Basis{
		Name: "Grimace, six signs", Range: "0 to 12, each sign 0 to 2",
		Source: "Dalla Costa et al., PLoS ONE 2014;9:e92281", Evidence: ranges.Published,
		Note: "The paper sets no limit from which to act. Donkeys and draft horses show little.",
	}}}
	known := 0
	for _, sign := range GrimaceSigns() {
		p, ok := points[sign]
		if !ok {
			g.High += 2
			g.Items = append(g.Items, Item{Name: sign, Says: "not seen", Open: true})
			continue
		}
		if p < 0 || p > 2 {
			return Grimace{}, &exam.Refusal{Why: fmt.Sprintf("%d is no score of %q: 0, 1 or 2", p, sign)}
		}
		known++
		g.Low += p
		g.High += p
		g.Items = append(g.Items, Item{Name: sign, Found: fmt.Sprint(p), Says: [...]string{"not there", "somewhat", "plain"}[p], Count: float64(p)})
	}
	if known != len(points) {
		return Grimace{}, &exam.Refusal{Why: "a sign is named that is not one of the six"}
	}
	g.Words = fmt.Sprintf("%d of 12", g.Low)
	if g.High > g.Low {
		g.Words = fmt.Sprintf("%d to %d of 12, %d of 6 signs seen", g.Low, g.High, known)
	}
	return g, nil
}
