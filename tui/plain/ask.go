package plain

import (
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// ask puts one question and takes one line.
func (s *Session) ask(i int) (command, int, error) {
	if s.Horse != nil {
		if ok, err := s.meet(s.keys[i]); err != nil || !ok {
			return quit, 0, err
		}
	}
	s.line("%s", s.question(i))
	text, ok := s.read()
	if !ok {
		return quit, 0, nil
	}
	return s.heed(i, text)
}

// heed handles a line typed at a question: a command, or the answer.
func (s *Session) heed(i int, text string) (command, int, error) {
	step := s.step(i)
	word, rest, _ := strings.Cut(text, " ")
	switch strings.ToLower(word) {
	case "", "later":
		return later, 0, nil
	case "quit":
		return quit, 0, nil
	case "finish":
		return finish, 0, nil
	case "back":
		return back, 0, nil
	case "how", "?":
		s.how(step)
		return again, 0, nil
	case "last":
		s.last(s.keys[i], step)
		return again, 0, nil
	case "source":
		if rest == "" {
			s.source(i)
			return again, 0, nil
		}
	case "measure":
		if step.Kind == exam.KindWeight && rest == "" {
			return s.byMeasures(s.keys[i], step)
		}
	case "to":
		return s.jump(rest)
	case "note":
		return again, 0, s.note(s.keys[i], rest)
	case "medicine":
		if s.Horse == nil {
			_, err := s.medicine(rest)
			return again, 0, err
		}
	case "listen", "taps":
		if s.Horse != nil {
			return s.byHeart(s.keys[i], step, strings.ToLower(word), rest)
		}
	case "sound":
		if s.Horse != nil {
			s.bySound(s.keys[i], rest)
			return again, 0, nil
		}
	case "count":
		return s.byClock(i, step, rest)
	case "not":
		if lower := strings.ToLower(text); strings.HasPrefix(lower, "not done") {
			return s.passOver(s.keys[i], strings.TrimSpace(text[len("not done"):]))
		}
	}
	return s.answer(i, step, text)
}

func (s *Session) how(step exam.Step) {
	if s.blind() {
		s.line("A blind rehearsal does not say how.")
		return
	}
	for _, l := range step.How {
		s.line("%s", l)
	}
	if text, ok := s.Deps.Judge.Range(s.visit.Class(), step, s.prefer(step)); ok {
		s.line("%s. %s. %s", text.Line, text.Words, text.Source)
	}
}

func (s *Session) last(k exam.Key, step exam.Step) {
	n, dates := 0, exam.DatesOf(append([]exam.Visit{s.visit}, s.earlier...)...)
	for _, v := range s.earlier {
		if f, ok := v.Finding(k); ok && f.Done() && n < 5 {
			s.line("%s: %s", dates.Show(v.OpenedAt), s.shown(step, f.Value))
			n++
		}
	}
	if n == 0 {
		s.line("No earlier visit has it.")
	}
}

// jump goes to a step named by its number, its identity or the beginning of its name. Where there is none, no other line
// is taken as an answer before the person says to which step it belongs.
func (s *Session) jump(text string) (command, int, error) {
	for s.failed == nil {
		if i, ok := s.placeNamed(text); ok {
			return jump, i, nil
		}
		s.line("No step of this routine is called %q. Type to and another step, or stay.", notation.CleanLine(text, 40))
		line, ok := s.read()
		if !ok {
			return quit, 0, nil
		}
		word, rest, _ := strings.Cut(line, " ")
		switch strings.ToLower(word) {
		case "to":
			text = rest
			continue
		case "stay", "later", "back":
			return again, 0, nil
		case "quit":
			return quit, 0, nil
		case "finish":
			return finish, 0, nil
		}
		s.line("Not saved: %q. First say which step it belongs to.", notation.CleanLine(line, 40))
	}
	return again, 0, s.failed
}

// placeNamed finds a place by its number, by the identity of its step or the beginning of its name, with its site as it
// is printed: "5", "temp", "Lung sounds, left upper", "gut.sounds:left upper".
func (s *Session) placeNamed(text string) (int, bool) {
	want := strings.TrimSuffix(strings.Join(strings.Fields(strings.ToLower(text)), " "), "?")
	if n, err := strconv.Atoi(want); err == nil && n >= 1 && n <= len(s.keys) {
		return n - 1, true
	}
	if number, rest, ok := strings.Cut(want, ". "); ok { // "5 of 8. Rectal temperature"
		if _, err := strconv.Atoi(strings.Fields(number + " x")[0]); err == nil {
			want = rest
		}
	}
	for i, k := range s.keys {
		step, _ := s.Deps.Steps.ByID(k.Step)
		for _, name := range []string{string(k.Step), strings.ToLower(step.Name), strings.ToLower(step.Short)} {
			for _, site := range []string{"", ", " + strings.ToLower(k.Site.String()), ":" + string(k.Site)} {
				if want != "" && strings.HasPrefix(name+site, want) {
					return i, true
				}
			}
		}
	}
	return 0, false
}
