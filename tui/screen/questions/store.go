package questions

import (
	"errors"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
	"loosebox/exam/procedure/order"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
)

// ready says that the visit was read.
func (s *Screen) ready() bool { return s.at.Visit.ID != "" }

// written is the visit behind lines that are on the disk, or why they are not.
type written struct {
	stand order.Stand
	err   error
}

// write writes lines of the record, each checked and durable before the next. The
// screen goes on when they are on the disk.
func (s *Screen) write(lines []exam.Entry) tea.Cmd {
	s.said = ""
	for i := range lines {
		lines[i].Visit, lines[i].By, lines[i].At = s.id, s.script.By(), s.Deps.Now()
	}
	at := s.Deps.Desk
	return base.Write(s, func() (written, error) {
		stand, err := order.Write(at, lines...)
		return written{stand, err}, nil
	}, func(w written) tea.Cmd { return s.wrote(lines, w) })
}

// stand takes a visit that was read.
func (s *Screen) stand(stand order.Stand) {
	s.at.Stand, s.at.Rules, s.at.Person = stand, procedure.RulesOf(s.Deps.Settings), s.Deps.Person(stand.Visit)
}

// take puts a visit up that was read; a part that is being filled in stays where
// nothing was written meanwhile.
func (s *Screen) take(stand order.Stand) tea.Cmd {
	fresh := !s.ready() || s.at.Visit.Entries != stand.Visit.Entries
	if s.stand(stand); fresh || s.question.Locked {
		s.next()
	}
	return nil
}

// wrote goes on where the lines are stored, and says why where they are not.
func (s *Screen) wrote(lines []exam.Entry, w written) tea.Cmd {
	if w.stand.Visit.ID != "" {
		s.stand(w.stand)
	}
	var refusal *notation.Refusal
	switch {
	case w.err == nil:
		s.tellPatient(lines)
		s.next()
		if slices.ContainsFunc(lines, func(e exam.Entry) bool { return e.Watch != nil }) {
			return nav.Watching()
		}
		return nil
	case errors.As(w.err, &refusal):
		s.say("Not saved: " + refusal.Error())
		return nil
	case errors.Is(w.err, exam.ErrRefused):
		s.next() // the script asks the gate as well and shows the lock
		s.say("Not saved: " + w.err.Error())
		return nil
	}
	return nav.Fail(w.err)
}
