package plain

import (
	"errors"
	"strings"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/desk"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/exam/report"
	"loosebox/ranges/words"
	"loosebox/tui/nav"
)

// close prints the visit's page and closes the visit when told to.
func (s *Session) close() error {
	if s.Horse != nil {
		if err := s.comeBack(); err != nil {
			return err
		}
	}
	verdict := s.Deps.Judge.Ended(s.visit, s.earlier)
	left := s.visit.Left(s.routine)
	s.page(verdict, left)
	ways := "finish or quit"
	if s.Horse == nil {
		ways = followWords
		s.line("After the exam: type hand off, decide, inject, draw or observe. Type after to see what is to do.")
	}
	if len(left) == 0 {
		s.line("%s Type finish to close the visit, or quit to continue later.", s.visit.NothingLeft())
	} else {
		s.line("Steps to do: %d. To close, type finish and the reason (finish %s). Type quit to continue later.", len(left), exam.ReasonNoTime)
	}
	if s.Horse == nil {
		if at, err := s.Deps.Read(s.visit.ID); err == nil {
			s.line("%s", after.Locks(s.Deps.Following(at, s.Deps.Settings, s.Deps.Now())))
		}
	}
	asked := false // about a watch that is still to do
	for s.failed == nil {
		text, ok := s.read()
		if !ok {
			return ErrLeft
		}
		word, rest, _ := strings.Cut(text, " ")
		word = strings.ToLower(word)
		switch {
		case word == "quit":
			return ErrLeft
		case s.Horse != nil && strings.HasPrefix(strings.ToLower(text), handOffWords):
			if err := s.handOff(text[len(handOffWords):]); err != nil {
				return err
			}
			continue
		case s.Horse == nil && s.follows(text) != nil:
			if err := s.procedure(s.follows(text)); err != nil {
				return err
			}
			continue
		case word != "finish":
			s.line("Type %s.", ways)
			continue
		}
		reason, more := readReason(rest)
		if len(left) > 0 && reason == "" {
			s.line("A reason is needed for the steps that are not answered: %s.", words.Join(exam.Reasons()))
			continue
		}
		if _, why, todo := nav.Unwatched(s.visit); todo && !asked {
			asked = true
			s.line("%s Type observe to start or decline it, or finish again to close anyway.", why)
			continue
		}
		without, closing, err := s.askUntold(left, reason)
		if err != nil {
			return err
		}
		if closing {
			return s.closeAs(left, reason, more, without)
		}
		s.line("Type %s.", ways)
	}
	return s.failed
}

func (s *Session) page(verdict judge.Verdict, left []exam.Key) {
	entries, err := s.Deps.Store.Entries(s.visit.ID)
	if err != nil {
		s.failed = err
		return
	}
	s.line("%s", report.Text(report.Page{
		Visit: s.visit, Earlier: s.earlier, Entries: entries, Verdict: verdict, Left: left, Coverage: s.visit.Coverage(s.routine), Routine: s.routine.Title, Steps: s.Deps.Steps,
		Judge: s.Deps.Judge, Units: s.Deps.Settings.Units,
	}, 80))
}

func (s *Session) closeAs(left []exam.Key, reason exam.Reason, words string, without exam.NoHandOff) error {
	end := desk.Ending{Left: left, Reason: string(reason), Words: words, Without: without}
	if s.Horse != nil && len(left) > 0 {
		end.First = []exam.Entry{rehearse.LeftEntry(len(left))}
	}
	stored, err := s.Deps.Close(s.visit.ID, end, s.Person, s.Deps.Now)
	for _, e := range stored {
		if failed := s.visit.Apply(e); err == nil {
			err = failed
		}
	}
	var refused *notation.Refusal
	switch {
	case errors.As(err, &refused):
		s.line("Not closed: %s.", strings.TrimSuffix(err.Error(), "."))
		return ErrLeft
	case err != nil:
		return err
	}
	if s.Horse == nil {
		s.line("The visit is closed. loosebox show %s prints it.", s.visit.ID)
	}
	return s.failed
}
