package plain

import "loosebox/exam"

// askWho asks who is working now, where somebody else worked on the visit last; false where the input ended.
func (s *Session) askWho() bool {
	if s.Before == "" {
		return true
	}
	for s.failed == nil {
		if s.Person == "" {
			s.line("%s worked on this visit last. Who is working now?", exam.CleanLine(s.Before, 60))
		} else {
			s.line("%s worked on this visit last. Who is working now? Enter alone: %s.", exam.CleanLine(s.Before, 60), exam.CleanLine(s.Person, 60))
		}
		text, ok := s.read()
		if !ok {
			return false
		}
		if name := exam.CleanLine(text, 60); name != "" {
			s.Person = name
		}
		if s.Person != "" {
			return true
		}
	}
	return false
}
