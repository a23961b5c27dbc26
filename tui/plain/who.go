package plain

import (
	"errors"

	"loosebox/exam/notation"
)

// askWho asks who is working now, where somebody else worked on the visit last.
func (s *Session) askWho() error {
	if s.Before == "" {
		return nil
	}
	for s.failed == nil {
		if s.Person == "" {
			s.line("%s worked on this visit last. Who is working now?", notation.CleanLine(s.Before, 60))
		} else {
			s.line("%s worked on this visit last. Who is working now? Enter alone: %s.", notation.CleanLine(s.Before, 60), notation.CleanLine(s.Person, 60))
		}
		text, err := s.reply()
		switch {
		case errors.Is(err, errFinish): // a visit is finished by somebody
			s.line("First say who is working now, or type quit.")
			continue
		case err != nil:
			return err
		}
		switch name := notation.CleanLine(text, 60); {
		case notation.IsName(name):
			s.Person = name
		case name != "":
			s.line("Not saved: a name has a letter. Every entry carries it.")
			continue
		}
		if s.Person != "" {
			return nil
		}
	}
	return s.failed
}
