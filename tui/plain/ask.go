package plain

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/ranges"
	"loosebox/ranges/words"
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
	step, _ := s.Deps.Steps.ByID(s.keys[i].Step)
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
		return s.byClock(s.keys[i], step, rest)
	case "not":
		if lower := strings.ToLower(text); strings.HasPrefix(lower, "not done") {
			return s.passOver(s.keys[i], strings.TrimSpace(text[len("not done"):]))
		}
	}
	return s.answer(s.keys[i], step, text)
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

// answer reads, checks and stores an answer, and says what stands out.
func (s *Session) answer(k exam.Key, step exam.Step, text string) (command, int, error) {
	s.why = ""
	if _, done := s.visit.Finding(k); done && step.Kind != exam.KindNote { // a correction may say why
		if at := strings.LastIndex(strings.ToLower(text), " because "); at > 0 && at+9 <= len(text) {
			s.why, text = strings.TrimSpace(text[at+9:]), text[:at]
		}
	}
	v, err := s.value(step, text)
	if errors.Is(err, exam.ErrUnlikely) {
		s.line("%s is unlikely. Type it again if it is so.", v.Number.Text(2))
		second, ok := s.read()
		if !ok {
			return quit, 0, nil
		}
		if second != text {
			return s.answer(k, step, second)
		}
		err = nil
	}
	if err != nil {
		s.line("Not saved: %s.", strings.TrimSuffix(err.Error(), "."))
		return again, 0, nil
	}
	return s.keep(k, step, v)
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

func counted(text string) (n, window int, ok bool) {
	left, right, found := strings.Cut(strings.ToLower(text), " in ")
	if !found {
		return 0, 0, false
	}
	n, err1 := strconv.Atoi(strings.TrimSpace(left))
	window, err2 := strconv.Atoi(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(right), "s")))
	return n, window, err1 == nil && err2 == nil
}

// byEar makes the value of a count in a window.
func byEar(step exam.Step, n, window int) (exam.Value, error) {
	c, err := tap.Counted(tap.What(step.Heard), n, window, false)
	if err != nil {
		return exam.Value{}, err
	}
	q := notation.Quantity{Value: c.RatePerMin, Unit: notation.PerMinute}
	if !step.Possible.Contains(q.Value) {
		return exam.Value{}, &notation.Refusal{Why: fmt.Sprintf("%s is not possible for %s", q.Text(1), strings.ToLower(step.Name))}
	}
	return exam.Value{
		Kind: exam.KindCount, Number: &q, Typed: fmt.Sprintf("%d in %d", n, window),
		Count: &exam.Count{Method: exam.CountByEar, WindowS: float64(window), Counted: n},
	}, nil
}

// byClock lets the clock run for a count by ear, rings, and asks for the number.
func (s *Session) byClock(k exam.Key, step exam.Step, text string) (command, int, error) {
	if step.Kind != exam.KindCount {
		return s.answer(k, step, "count "+text)
	}
	window, err := strconv.Atoi(strings.TrimSpace(text))
	if err != nil || (window != 15 && window != 30 && window != 60) || s.Wait == nil && s.Horse == nil {
		s.line("Type count 15, count 30 or count 60; or what was counted: 11 in 15.")
		return again, 0, nil
	}
	s.line("%s Counting %d seconds from now.", tap.FirstBeat, window)
	s.listen(k, step, float64(window))
	s.line("\aStop. How many were counted?")
	answer, ok := s.read()
	if !ok {
		return quit, 0, nil
	}
	n, err := strconv.Atoi(strings.TrimSpace(answer))
	if err != nil {
		s.line("Not saved: that is no whole number.")
		return again, 0, nil
	}
	v, err := byEar(step, n, window)
	if err != nil {
		s.line("Not saved: %s.", err)
		return again, 0, nil
	}
	if c, err := tap.Counted(tap.What(step.Heard), n, window, false); err == nil {
		s.line("Counted %s.", c.Coarse)
		if !c.Enough {
			s.line("%s (%s).", notation.Capital(c.Why), c.Source)
		}
	}
	return s.keep(k, step, v)
}
