package plain

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam/gs1"
	"loosebox/exam/notation"
	"loosebox/tui/nav"
)

// line writes one line; after a failed write nothing more is tried.
func (s *Session) line(format string, args ...any) {
	if s.failed != nil {
		return
	}
	text := fmt.Sprintf(format, args...)
	s.asks = text
	if _, err := fmt.Fprintln(s.Out, text); err != nil {
		s.failed = fmt.Errorf("write the exam: %w; every answer so far is saved", err)
	}
}

// read reads one line; false at the end of the input. Where no chip is asked, a
// chip number is told whose it is, and the question is put again.
func (s *Session) read() (string, bool) {
	for {
		text, ok := s.readLine()
		if ok && s.failed == nil && !s.codes && gs1.Is(text) {
			question := s.asked
			s.line("%s", nav.CodeWords(text, s.Deps.Now()))
			s.line("%s", question)
			continue
		}
		if !ok || s.failed != nil || s.comparing || !s.scanned(text) {
			return text, ok
		}
	}
}

// reply reads an answer to a question that stands beside the steps. The words for leaving mean there what they mean at a
// step: quit leaves the visit open, as the end of the input does (ErrLeft), finish goes to its end (errFinish).
func (s *Session) reply() (string, error) {
	text, ok := s.read()
	word, _, _ := strings.Cut(strings.ToLower(text), " ")
	switch {
	case !ok, word == "quit":
		return "", ErrLeft
	case word == "finish":
		return "", errFinish
	}
	return text, nil
}

// leaves says that an error of reply is one of the words for leaving.
func leaves(err error) bool { return errors.Is(err, ErrLeft) || errors.Is(err, errFinish) }

func (s *Session) readLine() (string, bool) {
	if s.Terminal && s.failed == nil {
		if _, err := fmt.Fprint(s.Out, s.mark()); err != nil {
			s.failed = err
		}
	}
	s.asked = s.asks
	if !s.scan.Scan() {
		return "", false
	}
	text := notation.CleanNote(strings.ReplaceAll(s.scan.Text(), "\x1d", gs1.Parted)) // a sign without a shape is lost in cleaning
	if s.Echo {
		s.line("> %s", text)
	}
	return text, true
}
