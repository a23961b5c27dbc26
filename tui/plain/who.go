package plain

import "loosebox/exam/notation"

// askWho asks who is working now, where somebody else worked on the visit last; false where the input ended.
func (s *Session) askWho() bool {
	if s.Before == "" {
		return true
	}
	for s.failed == nil {
		if s.Person == "" {
			s.line("%s worked on this visit last. Who is working now?", notation.CleanLine(s.Before, 60))
		} else {
			s.line("%s worked on this visit last. Who is working now? Enter alone: %s.", notation.CleanLine(s.Before, 60), notation.CleanLine(s.Person, 60))
		}
		text, ok := s.read()
		if !ok {
			return false
		}
		if name := notation.CleanLine(text, 60); name != "" {
			s.Person = name
		}
		if s.Person != "" {
			return true
		}
	}
	return false
}
