package rehearse

import (
	"slices"
	"strconv"

	"loosebox/exam"
)

// LeftEntry is stored before the reasons that closing a rehearsal gives to the places that were left, so that they are
// marked as missed and not as passed over with a reason.
func LeftEntry(places int) exam.Entry {
	return fact{kind: factLeft, values: []string{strconv.Itoa(places)}, words: "without an answer at the end"}.entry(exam.Key{})
}

// forgetLeft takes the reasons back that only the closing gave: those places have no answer, and no turn in the order.
func (m *marker) forgetLeft() {
	closing := factsIn(m.visit, factLeft)
	if len(closing) == 0 {
		return
	}
	at := closing[len(closing)-1].Seq
	m.visit.Findings = slices.DeleteFunc(slices.Clone(m.visit.Findings), func(f exam.Finding) bool { return !f.Done() && f.Seq > at })
	m.entries = slices.DeleteFunc(slices.Clone(m.entries), func(e exam.Entry) bool { return e.Kind == exam.EntryNotDone && e.Seq > at })
}
