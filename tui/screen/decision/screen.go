// Package decision is where the veterinarian's decision is written down: the
// words, the name, how it was given, what it covers and until when. A decision
// that stands is corrected with a reason, and both stay readable.
package decision

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	deps   *nav.Deps
	id     exam.VisitID
	number int // entry of the decision that is corrected; 0 for a new one

	loaded bool
	seen   nav.Seen
	stands exam.Decided // the one that is corrected
	rows   *rows
	leave  bool // esc was asked once with something written
	saving bool
}

// New makes the decision of the visit in the address; a number is the entry of
// the decision to correct.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	return &screen{deps: deps, id: to.Visit, number: to.Number}
}

func (s *screen) Init() tea.Cmd { return s.load() }

func (s *screen) Title() string {
	switch {
	case !s.loaded:
		return "Decision"
	case s.number > 0:
		return "Correct a decision: " + exam.CleanLine(s.seen.Visit.Horse.Name, 30)
	}
	return "Decision of the veterinarian: " + exam.CleanLine(s.seen.Visit.Horse.Name, 30)
}

func (s *screen) Right() string {
	if !s.loaded {
		return ""
	}
	return s.deps.Now().Format("15:04")
}

func (s *screen) Cautions() []string { return s.seen.Visit.Horse.Cautions }
func (s *screen) Typing() bool       { return s.loaded && s.rows.form.Typing() }

// Typed is the form: what is typed there can be taken back.
func (s *screen) Typed() keys.Light {
	if !s.loaded || s.saving {
		return nil
	}
	return s.rows.form
}

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }

// Escape asks once before words that are not written down are thrown away.
func (s *screen) Escape() bool {
	if !s.loaded || s.leave || !s.rows.form.Changed() {
		return false
	}
	s.leave = true
	return true
}

// Keys are those of the form.
func (s *screen) Keys() []keys.Binding {
	if !s.loaded {
		return nil
	}
	return s.rows.form.Keys()
}

type (
	readVisitMsg struct {
		to   *screen
		seen nav.Seen
		err  error
	}
	savedDecisionMsg struct {
		to  *screen
		err error
	}
)

func (s *screen) load() tea.Cmd {
	deps, id := s.deps, s.id
	return func() tea.Msg {
		seen, err := deps.See(id)
		return readVisitMsg{to: s, seen: seen, err: err}
	}
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case readVisitMsg:
		return s.take(m)
	case savedDecisionMsg:
		return s.saved(m)
	case keys.Press:
		return s.press(m)
	}
	return nil
}

func (s *screen) take(m readVisitMsg) tea.Cmd {
	switch {
	case m.to != s || s.loaded:
		return nil
	case m.err != nil:
		return nav.Fail(m.err)
	}
	for _, d := range m.seen.Visit.Decisions {
		if d.Seq == s.number {
			s.stands = d
		}
	}
	s.loaded, s.seen = true, m.seen
	if s.stands.Seq == 0 {
		s.number = 0
	}
	s.rows = newRows(s.deps, m.seen.Visit, s.stands)
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.loaded || s.saving {
		return nil
	}
	s.leave = false
	if s.rows.form.Press(p) != form.Save || !s.rows.form.Check() {
		return nil
	}
	e, err := s.rows.entry(s.deps.Now())
	if err == nil {
		err = e.Decision.Check()
	}
	if err != nil {
		return nav.Fail(err)
	}
	e.Visit, e.Corrects = s.id, s.number
	s.saving = true
	deps := s.deps
	return func() tea.Msg {
		_, err := deps.Write(e)
		return savedDecisionMsg{to: s, err: err}
	}
}

func (s *screen) saved(m savedDecisionMsg) tea.Cmd {
	if m.to != s {
		return nil
	}
	s.saving = false
	if m.err != nil {
		return nav.Fail(m.err) // what was typed stays
	}
	return nav.Back()
}

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the visit .."
	}
	t := s.deps.Theme
	var head []string
	for _, line := range layout.Wrap(s.says(), size.W) {
		head = append(head, t.Faint.Render(line))
	}
	if s.leave {
		head = []string{t.Warn.Render(layout.Cut("Not written down yet. esc again leaves, and what was typed is lost.", size.W))}
	}
	head = head[:min(len(head), max(size.H/3, 0))]
	if s.saving {
		head = append(head, "storing ..")
	}
	lines := append(append(head, ""), s.rows.form.Lines(layout.Size{W: size.W, H: max(size.H-len(head)-1, 1)})...)
	return strings.Join(lines[:min(len(lines), max(size.H, 1))], "\n")
}

// says is what to know before the first line.
func (s *screen) says() string {
	switch {
	case s.seen.Visit.Closed():
		return "The visit is closed: this is added later to its record and unlocks nothing. A procedure needs a new visit."
	case s.number > 0:
		by, at := s.stands.Since().By, s.stands.Since().At
		return fmt.Sprintf("This puts right what %s wrote down at %s; both stay readable. It unlocks nothing new: what the veterinarian says now is a new decision.",
			exam.CleanLine(by, 30), at.Format("15:04"))
	}
	return "The veterinarian decides; write down the very words."
}
