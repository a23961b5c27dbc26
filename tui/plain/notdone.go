package plain

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges/words"
)

func (s *Session) note(k exam.Key, text string) error {
	if strings.TrimSpace(text) == "" {
		s.line("Type note and the comment.")
		return nil
	}
	if err := s.store(exam.Entry{Kind: exam.EntryNote, Step: k.Step, Site: k.Site, Note: text}); err != nil {
		return err
	}
	s.line("The comment is saved.")
	return nil
}

// readReason finds the reason a text begins with; other words count as "other".
func readReason(text string) (reason exam.Reason, words string) {
	const between = " ,:;-"
	clean := strings.TrimLeft(notation.CleanNote(text), between)
	if clean == "" {
		return "", ""
	}
	for _, r := range exam.Reasons() {
		for _, name := range []string{string(r), r.String()} {
			switch {
			case len(clean) >= len(name) && strings.EqualFold(clean[:len(name)], name):
				return r, strings.TrimLeft(clean[len(name):], between)
			case r != exam.ReasonOther && strings.HasPrefix(strings.ToLower(name), strings.ToLower(clean)):
				return r, ""
			}
		}
	}
	return exam.ReasonOther, clean
}

func (s *Session) passOver(k exam.Key, text string) (command, int, error) {
	reason, more := readReason(text)
	if reason == "" || (reason == exam.ReasonOther && more == "") {
		s.line("Type not done and the reason: %s, or your own words.", words.Join(exam.Reasons()))
		return again, 0, nil
	}
	if err := s.store(exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: string(reason), Note: more}); err != nil {
		return again, 0, err
	}
	s.line("Saved as not done: %s.", reason)
	return answered, 0, nil
}
