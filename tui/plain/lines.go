package plain

import (
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
