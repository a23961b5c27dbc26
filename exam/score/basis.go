package score

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/weight"
	"loosebox/ranges"
)

// BasisOf says what the score of a step rests on, or by when an event is due;
// false where none is held here.
func BasisOf(step exam.StepID) (Basis, bool) {
	switch step {
	case "condition.score":
		return conditionBasis(), true
	case "pain.grimace":
		return grimaceBasis(), true
	case "neck.crest":
		return crestBasis(), true
	}
	if m, ok := MilestoneOf(step); ok {
		b := newbornBasis()
		b.Name = "Since foaling"
		b.Range = fmt.Sprintf("usual by %s, recheck from %s, the veterinarian is told from %s", spell(m.Usual), spell(m.Recheck), spell(m.Tell))
		b.Source, b.Evidence = m.Source, m.Evidence
		return b, true
	}
	return Basis{}, false
}

// GoesInto says what the answer to a step is added up with: the signs of fluid
// loss, the ratio of neck to height; false where nothing is.
func GoesInto(step exam.StepID) (Basis, bool) {
	switch step {
	case "gum.moisture", "gum.refill", "jugular.fill", "skin.tent":
		return hydrationBasis(), true
	case "neck.girth", "height.withers":
		return Basis{Name: "Neck to height", Range: "a ratio; limits are held for horses and ponies only", Source: weight.NeckRatioSource, Evidence: ranges.Published}, true
	}
	return Basis{}, false
}
