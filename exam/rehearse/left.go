package rehearse

import (
	"fmt"
	"regexp"
	"slices"

	"loosebox/exam"
)

// leftMark begins the note that says how many places were left when the rehearsal was closed.
const leftMark = "rehearsal: left "

// LeftEntry is stored before the reasons that closing a rehearsal gives to the places that were left, so that they are
// marked as missed and not as passed over with a reason.
func LeftEntry(places int) exam.Entry {
	return exam.Entry{Kind: exam.EntryNote, Note: fmt.Sprintf("%s[%d] without an answer at the end", leftMark, places)}
}

// forgetLeft takes the reasons back that only the closing gave: those places have no answer, and no turn in the order.
func (m *marker) forgetLeft() {
	form, at := regexp.MustCompile(`^`+leftMark+`\[\d+\]`), 0
	for _, n := range m.visit.Notes {
		if n.Step == "" && form.MatchString(n.Text) {
			at = n.Seq
		}
	}
	if at == 0 {
		return
	}
	m.visit.Findings = slices.DeleteFunc(slices.Clone(m.visit.Findings), func(f exam.Finding) bool { return !f.Done() && f.Seq > at })
	m.entries = slices.DeleteFunc(slices.Clone(m.entries), func(e exam.Entry) bool { return e.Kind == exam.EntryNotDone && e.Seq > at })
}
