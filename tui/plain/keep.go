package plain

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// answer reads, checks and stores an answer, and says what stands out.
func (s *Session) answer(i int, step exam.Step, text string) (command, int, error) {
	k := s.keys[i]
	s.why = ""
	if _, done := s.visit.Finding(k); done && step.Kind != exam.KindNote { // a correction may say why
		if at := strings.LastIndex(strings.ToLower(text), " because "); at > 0 && at+9 <= len(text) {
			s.why, text = strings.TrimSpace(text[at+9:]), text[:at]
		}
	}
	v, err := s.value(step, text)
	if errors.Is(err, exam.ErrUnlikely) {
		second, same := s.unlikely(v, text)
		if !same {
			return s.heed(i, second)
		}
		err = nil
	}
	if err != nil {
		s.line("Not saved: %s.", strings.TrimSuffix(err.Error(), "."))
		return again, 0, nil
	}
	return s.keep(k, step, v)
}

// unlikely asks for a number once more. Another line than the one before it is what that line says; the end of the input
// is to quit.
func (s *Session) unlikely(v exam.Value, text string) (second string, same bool) {
	s.line("%s is unlikely. Type it again if it is so.", v.Number.Text(2))
	second, ok := s.read()
	if !ok {
		return "quit", false
	}
	return second, second == text
}

func (s *Session) keep(k exam.Key, step exam.Step, v exam.Value) (command, int, error) {
	if s.Horse != nil && v.Usual {
		s.sense()
		if why := s.Horse.TooSoon(k, v, s.played.senses.total[k]); why != "" {
			s.line("Not yet: %s.", why)
			return again, 0, nil
		}
	}
	if err := s.storeSensed(k, step); err != nil {
		return again, 0, err
	}
	if err := s.storeClock(k, v); err != nil {
		return again, 0, err
	}
	if err := s.store(exam.Entry{Kind: exam.EntryFinding, Step: k.Step, Site: k.Site, Value: &v}); err != nil {
		return again, 0, err
	}
	f, _ := s.visit.Finding(k)
	said := "Saved: " + v.Show(step) + "."
	switch w := v.Weight; {
	case step.Kind != exam.KindWeight:
	case w == nil:
		said += " Add scale, tape or by eye after the number to keep how it was found."
	case w.HighKg > 0:
		said += " " + bandSaid(w.LowKg, w.HighKg, w.BandPercent, v.Number.Unit)
	}
	if r, ok := s.Deps.Judge.Finding(s.visit, f, s.earlier); ok && r.Level > 0 {
		said += fmt.Sprintf(" %s: %s", strings.ToUpper(r.Level.String()), r.Why)
		if call := s.Deps.Settings.Call(); call != "" && r.Level >= ranges.LevelTell && s.Horse == nil {
			said += " " + call + "."
		}
	}
	s.line("%s", said)
	return answered, 0, nil
}

// value reads an answer; "11 in 15" is a count by ear.
func (s *Session) value(step exam.Step, text string) (exam.Value, error) {
	if step.Kind == exam.KindCount {
		if n, window, ok := counted(text); ok {
			return byEar(step, n, window)
		}
	}
	if step.Kind == exam.KindEvent {
		return step.ReadEvent(text, s.visit.Horse.Birth, s.Deps.Now())
	}
	if step.Kind == exam.KindWeight {
		return s.weighed(step, text)
	}
	return step.ReadAnswer(text, s.prefer(step))
}
