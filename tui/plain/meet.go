package plain

import (
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
)

// meet writes what is seen, heard and felt when a place is examined, and asks what to do at a moment of danger; false where
// the input ended.
func (s *Session) meet(k exam.Key) (bool, error) {
	for {
		m, ok := s.Horse.MomentAt(k, s.visit)
		if !ok {
			break
		}
		if ok, err := s.moment(k, m); err != nil || !ok {
			return ok, err
		}
	}
	if s.played.looked && s.played.at == k {
		return true, nil
	}
	s.played.at, s.played.looked = k, true
	s.come(k)
	seen := s.Horse.Look(k, 0)
	words := seen.Words
	if seen.Told != "" && !s.plays() {
		words = seen.Told
	}
	s.line("%s: %s", notation.Capital(senseWord(seen.Sense)), words)
	for _, e := range seen.Events {
		s.line("  %s s: %s", strconv.FormatFloat(e.AfterS, 'f', 2, 64), e.Words)
	}
	return true, nil
}

func senseWord(sense exam.Sense) string {
	switch sense {
	case exam.ByEar:
		return "heard"
	case exam.ByHand:
		return "felt"
	case exam.ByEye:
	}
	return "seen"
}

// moment asks what is done and says at once what it is worth.
func (s *Session) moment(k exam.Key, m rehearse.DangerMoment) (bool, error) {
	s.line("Caution: %s %s", m.Happens, m.Asks)
	for i, o := range m.Options {
		s.line("  %d %s", i+1, o.Words)
	}
	s.line("Type the number of what you do, or quit.")
	for s.failed == nil {
		text, err := s.reply()
		if err != nil {
			return false, err
		}
		n, err := strconv.Atoi(strings.TrimSpace(text))
		if err != nil || n < 1 || n > len(m.Options) {
			s.line("Type the number of one of them.")
			continue
		}
		o := m.Options[n-1]
		if err := s.store(m.Entry(k.Site, o)); err != nil {
			return false, err
		}
		said := "Safe."
		if !o.Safe {
			said = "NOT SAFE."
		}
		s.line("%s %s", said, m.Why)
		return true, nil
	}
	return false, s.failed
}
