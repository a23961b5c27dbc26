// Package decision is the screen on which the veterinarian's decision is entered: the words, the name, how it was given, what
// it covers and until when. A stored decision is corrected with a reason, and both stay readable.
package decision

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	id     exam.VisitID
	number int // entry of the decision that is corrected; 0 for a new one

	seen   desk.Judged
	stands exam.Decided // the one that is corrected
	rows   *rows
}

// New makes the decision of the visit in the address; a number is the entry of
// the decision to correct.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{id: to.Visit, number: to.Number}
	s.Deps, s.Load, s.Store = deps, s.load, s.store
	s.Leave = "Not saved yet. esc again leaves; what was typed is lost."
	return s
}

func (s *screen) Title() string {
	switch {
	case !s.Loaded:
		return "Decision"
	case s.number > 0:
		return "Correct a decision · " + notation.CleanLine(s.seen.Visit.Horse.Name, 30)
	}
	return "Decision of the veterinarian · " + notation.CleanLine(s.seen.Visit.Horse.Name, 30)
}

func (s *screen) Right() string {
	if !s.Loaded {
		return ""
	}
	return s.Deps.Now().Format("15:04")
}

func (s *screen) Cautions() []string { return s.seen.Visit.Horse.Cautions }
func (s *screen) load() tea.Cmd {
	deps, id := s.Deps, s.id
	return base.Read(s, func() (desk.Judged, error) { return deps.Read(id) }, s.take)
}

func (s *screen) take(seen desk.Judged) tea.Cmd {
	for _, d := range seen.Visit.Decisions {
		if d.Seq == s.number {
			s.stands = d
		}
	}
	s.seen = seen
	if s.stands.Seq == 0 {
		s.number = 0
	}
	s.rows = newRows(s)
	return nil
}

func (s *screen) store() tea.Cmd {
	e, err := s.rows.entry(s.Deps.Now())
	if err == nil {
		err = e.Decision.Check()
	}
	if err != nil {
		return nav.Fail(err)
	}
	e.Visit, e.Corrects = s.id, s.number
	deps := s.Deps
	return base.Write(s, func() (exam.Entry, error) { return deps.Write(e) }, func(exam.Entry) tea.Cmd { return nav.Back() })
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the visit .."
	}
	head := s.Faint(s.says(), size.W)
	if s.Leaving() {
		head = []string{s.Deps.Theme.Warn.Render(layout.Cut(s.Said, size.W))}
	}
	head = head[:min(len(head), max(size.H/3, 0))]
	if s.Saving() {
		head = append(head, "saving ..")
	}
	return s.DrawUnder(size, append(head, ""))
}

// says is what to know before the first line.
func (s *screen) says() string {
	switch {
	case s.seen.Visit.ClosedOn(s.Deps.Now()):
		return "The visit is closed; this is added later. What it covers can be done in this visit today only."
	case s.seen.Visit.Closed():
		return "The visit is closed; this is added later and unlocks nothing. A procedure needs a new visit."
	case s.number > 0:
		by, at := s.stands.Since().By, s.stands.Since().At
		return fmt.Sprintf("This corrects what %s recorded at %s; both stay readable. It unlocks nothing new. A new order from the veterinarian is a new decision.",
			notation.CleanLine(by, 30), notation.Clock(at, s.Deps.Now()))
	}
	return "The veterinarian decides. Type the exact words."
}
