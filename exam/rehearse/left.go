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

// forgetLate takes back what was begun after the time of a drill was up; what was begun before may be listened to the end.
func (m *marker) forgetLate() {
	limit := m.horse.LimitS(m.routine)
	if limit == 0 {
		return
	}
	late, begun := map[int]bool{}, m.visit.OpenedAt
	for _, e := range m.entries {
		if e.Kind == exam.EntryFinding || e.Kind == exam.EntryNotDone {
			late[e.Seq] = begun.Sub(m.visit.OpenedAt).Seconds() > limit
			begun = e.At
		}
	}
	n := len(m.visit.Findings)
	m.visit.Findings = slices.DeleteFunc(slices.Clone(m.visit.Findings), func(f exam.Finding) bool { return late[f.Seq] })
	m.entries = slices.DeleteFunc(slices.Clone(m.entries), func(e exam.Entry) bool { return late[e.Seq] })
	m.out.Late, m.out.LimitS = n-len(m.visit.Findings), limit
}
