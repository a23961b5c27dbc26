package flow

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// Asked is the question that the horse of a rehearsal asks while a needle is in.
type Asked struct {
	s *Screen
	p nav.Patient
}

// NewAsked puts up the question that is open.
func NewAsked(s *Screen) *Asked { return &Asked{s, s.Deps.Patient} }

// Lines draws it, or what the choice was worth.
func (a *Asked) Lines(size layout.Size) []string { return a.p.Question(size) }

// Press hands the key on; a choice is stored, and the flow goes on once the
// question is closed.
func (a *Asked) Press(p keys.Press) tea.Cmd {
	entries := a.p.Press(p)
	if len(entries) > 0 {
		return a.s.Write(entries...)
	}
	if !a.p.Asks() {
		a.s.Next()
	}
	return nil
}

// Keys are those of the question.
func (a *Asked) Keys() []keys.Binding { return a.p.Keys() }

// Typing is never true.
func (a *Asked) Typing() bool { return false }

// Escape keeps the question: a needle is in.
func (a *Asked) Escape() bool {
	a.s.Say("A needle is in: choose first.")
	return true
}

// tellPatient says what was stored, for a question that is answered by it.
func (s *Screen) tellPatient(lines []exam.Entry) {
	if s.Deps.Patient == nil {
		return
	}
	for _, e := range lines {
		s.Deps.Patient.Stored(e)
	}
}
