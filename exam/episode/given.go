package episode

import (
	"fmt"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Given is a medicine that was given: an injection of the record, or what somebody said
// at the beginning of a check.
type Given struct {
	At    time.Time
	Words string
	By    string
	Said  bool // it was said, not given here
}

// given lists what was given in the visits, oldest first. What was said more than once
// in the same words stands once.
func given(visits []exam.Visit) []Given {
	var out []Given
	said := map[string]bool{}
	for _, v := range slices.Backward(visits) {
		if text := notation.CleanLine(v.Context.Given, exam.MaxGiven); text != "" && !said[text] {
			said[text] = true
			out = append(out, Given{v.OpenedAt, text, v.By, true})
		}
		for _, i := range v.Injections {
			if !i.WentIn() || i.EndAt == nil || i.Earlier() {
				continue
			}
			amount := notation.FormatNumber(i.GivenML, 2) + " mL"
			if i.NotKnown {
				amount = "amount not known"
			}
			at := *i.EndAt
			out = append(out, Given{at, fmt.Sprintf("%s, %s %s", notation.CleanLine(i.Product(), 60), amount, i.Route()), i.GivenBy(), false})
		}
	}
	slices.SortStableFunc(out, func(a, b Given) int { return a.At.Compare(b.At) })
	return out
}
