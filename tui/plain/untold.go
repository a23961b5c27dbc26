package plain

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
)

// askUntold asks what becomes of something for the veterinarian that is not handed
// off: closing is false where it was handed off now, so that the visit is looked
// over once more. The input's end leaves the visit open. What is left is judged as it
// will stand: passed over for the reason.
func (s *Session) askUntold(left []exam.Key, reason exam.Reason) (without exam.NoHandOff, closing bool, err error) {
	v := s.visit
	v.Findings = slices.Clone(v.Findings)
	for _, k := range left {
		v.Findings = append(v.Findings, exam.Finding{Step: k.Step, Site: k.Site, NotDone: reason, At: s.Deps.Now(), By: s.Person, Seq: v.Entries + 1})
	}
	what, untold := authorization.Untold(v, s.Deps.Judge.Ended(v, s.earlier).Remarks)
	if !untold {
		return "", true, nil
	}
	now := "hand off"
	if s.Horse != nil {
		now = handOffWords + "NAME"
	}
	s.line("This is for the veterinarian and is not handed off: %s.", notation.CleanNote(what))
	var reasons []string
	for _, r := range exam.NoHandOffs() {
		reasons = append(reasons, r.String())
	}
	for s.failed == nil {
		s.line("Type %s, or why the visit is closed without: %s.", now, strings.Join(reasons, "; "))
		text, ok := s.read()
		word := strings.ToLower(strings.TrimSpace(text))
		switch {
		case !ok, word == "quit":
			return "", false, ErrLeft
		case word == "" || word == "finish" || strings.HasPrefix(word, "finish "):
		case s.Horse != nil && strings.HasPrefix(word, strings.TrimSpace(handOffWords)):
			return "", false, s.handOff(strings.TrimSpace(text)[len(strings.TrimSpace(handOffWords)):])
		case s.Horse == nil && s.follows(word) != nil:
			return "", false, s.procedure(s.follows(word))
		default:
			return exam.ReadNoHandOff(text), true, nil
		}
	}
	return "", false, s.failed
}
