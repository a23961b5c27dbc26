package rehearse

import (
	"slices"

	"loosebox/exam"
)

// Outcome is what came of one place of the routine.
type Outcome string

// The outcomes. In part and measured off are no right answers, but the horse was examined there and what matters was
// seen: the veterinarian hears of it.
const (
	OutcomeRight       Outcome = "right"
	OutcomeInPart      Outcome = "in part"      // some of what was there was found
	OutcomeMeasuredOff Outcome = "measured off" // the number is off, its level is the true one
	OutcomeWrong       Outcome = "wrong"
	OutcomeNotExamined Outcome = "not examined" // no answer, or passed over
)

// Found says that the veterinarian can be told of it.
func (o Outcome) Found() bool {
	return o == OutcomeRight || o == OutcomeInPart || o == OutcomeMeasuredOff
}

// Tally counts the places that have a truth by what became of them. Text, CSV and JSON all show this count.
type Tally struct {
	Asked       int `json:"asked"` // all places with a truth that can be examined on this horse
	Right       int `json:"right"`
	InPart      int `json:"in_part"` // found in part, or measured off
	Wrong       int `json:"wrong"`
	NotExamined int `json:"not_examined"`
	Excused     int `json:"could_not_be_examined"` // beside those asked: this horse cannot be examined there
}

// Tally counts the findings.
func (m Marks) Tally() Tally {
	t := Tally{}
	for _, f := range m.Findings {
		if m.excused(f.Place) {
			t.Excused++
			continue
		}
		t.Asked++
		switch f.Outcome {
		case OutcomeRight:
			t.Right++
		case OutcomeInPart, OutcomeMeasuredOff:
			t.InPart++
		case OutcomeWrong:
			t.Wrong++
		case OutcomeNotExamined:
			t.NotExamined++
		}
	}
	return t
}

func (m Marks) excused(p Place) bool {
	return slices.ContainsFunc(m.Passed, func(x PassedMark) bool { return x.Place == p && x.Excused })
}

// outcome sets an answer that is there beside the truth. Found is the level that the answer stands at.
func outcome(step exam.Step, right bool, answer, truth exam.Value, found, level exam.Level) Outcome {
	switch {
	case right:
		return OutcomeRight
	case step.Kind == exam.KindMarks:
		if slices.ContainsFunc(answer.Words, func(w string) bool { return slices.Contains(truth.Words, w) }) {
			return OutcomeInPart
		}
	case answer.Number != nil && truth.Number != nil && found == level:
		return OutcomeMeasuredOff
	}
	return OutcomeWrong
}
