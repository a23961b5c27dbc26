package score

import "loosebox/exam"

// BasisOf says what the score of a step rests on; false where none is held here.
func BasisOf(step exam.StepID) (Basis, bool) {
	switch step {
	case "condition.score":
		return conditionBasis(), true
	case "pain.grimace":
		return grimaceBasis(), true
	}
	return Basis{}, false
}
