package questions

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// asked is the question that the horse of a rehearsal asks while a needle is in.
type asked struct {
	s *Screen
	p nav.Patient
}

// Lines draws it, or what the choice was worth.
func (a *asked) Lines(size layout.Size) []string { return a.p.Question(size) }

// Press hands the key on; a choice is stored, and the flow goes on once the
// question is closed.
func (a *asked) Press(p keys.Press) tea.Cmd {
	entries := a.p.Press(p)
	if len(entries) > 0 {
		return a.s.write(entries)
	}
	if !a.p.Asks() {
		a.s.next()
	}
	return nil
}

// Keys are those of the question.
func (a *asked) Keys() []keys.Binding { return a.p.Keys() }

// Typing is never true.
func (a *asked) Typing() bool { return false }

// Escape is true: the question stays open, because a needle is in.
func (a *asked) Escape() bool {
	a.s.say("A needle is in: choose first.")
	return true
}

// tellPatient passes stored entries to the patient, which may answer its question.
func (s *Screen) tellPatient(lines []exam.Entry) {
	if s.Deps.Patient == nil {
		return
	}
	for _, e := range lines {
		s.Deps.Patient.Stored(e)
	}
}
