// Package dose writes down an earlier dose from a passport or other papers, so
// that what is due can be reckoned from it. Nobody injects here, so that no
// decision is needed. A dose that was noted wrongly is put right with a reason.
package dose

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	deps   *nav.Deps
	horse  exam.HorseID
	visit  exam.VisitID
	number int // of the dose that is put right; 0 for a new one

	loaded   bool
	found    exam.Horse
	by       string // who is offered as the writer
	schedule *due.Table
	stands   exam.Injection
	rows     *rows
	said     string // what was written down last
	saving   bool
}

// New makes the screen of an earlier dose of the horse in the address; with a
// visit and a number, of the one that is put right.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	return &screen{deps: deps, horse: to.Horse, visit: to.Visit, number: to.Number}
}

func (s *screen) Init() tea.Cmd { return s.load() }

func (s *screen) Title() string {
	if !s.loaded {
		return "Earlier dose"
	}
	return "Earlier dose: " + exam.CleanLine(s.found.Name, 30)
}

func (s *screen) Right() string      { return "" }
func (s *screen) Cautions() []string { return nil }
func (s *screen) Typing() bool       { return s.loaded && s.rows.form.Typing() }

// Typed is the form: what is typed there can be taken back.
func (s *screen) Typed() keys.Light {
	if !s.loaded || s.saving {
		return nil
	}
	return s.rows.form
}

func (s *screen) Escape() bool { return false }

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }

// Keys are those of the form.
func (s *screen) Keys() []keys.Binding {
	if !s.loaded {
		return nil
	}
	return s.rows.form.Keys()
}

type (
	readHorseMsg struct {
		to       *screen
		horse    exam.Horse
		by       string
		schedule *due.Table
		stands   exam.Injection
		err      error
	}
	savedDoseMsg struct {
		to   *screen
		said string
		err  error
	}
)

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case readHorseMsg:
		return s.take(m)
	case savedDoseMsg:
		return s.saved(m)
	case keys.Press:
		if !s.loaded || s.saving {
			return nil
		}
		if s.rows.form.Press(m) == form.Save && s.rows.form.Check() {
			return s.save()
		}
	}
	return nil
}

func (s *screen) take(m readHorseMsg) tea.Cmd {
	switch {
	case m.to != s || s.loaded:
		return nil
	case m.err != nil:
		return nav.Fail(m.err)
	}
	s.loaded, s.found, s.by, s.schedule, s.stands = true, m.horse, m.by, m.schedule, m.stands
	s.rows = newRows(s)
	return nil
}

// saved stays for the next dose of the same papers; a correction goes back.
func (s *screen) saved(m savedDoseMsg) tea.Cmd {
	if m.to != s {
		return nil
	}
	s.saving = false
	switch {
	case m.err != nil:
		return nav.Fail(m.err) // what was typed stays
	case s.number > 0:
		return nav.Back()
	}
	basis := s.rows.basis.Content()
	s.said, s.rows = m.said, newRows(s)
	s.rows.basis.Put(basis)
	return nil
}

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the horse .."
	}
	t := s.deps.Theme
	says := "A dose that was given before, as the papers have it. esc when all are written down."
	if s.number > 0 {
		says = "This puts right what was noted; both stay readable."
	}
	var head []string
	for _, line := range layout.Wrap(says, size.W) {
		head = append(head, t.Faint.Render(line))
	}
	if s.said != "" {
		head = []string{t.Good.Render(layout.Cut(s.said, size.W)), t.Faint.Render(layout.Cut("The next one, or esc.", size.W))}
	}
	if s.saving {
		head = []string{"storing .."}
	}
	head = head[:min(len(head), max(size.H/3, 0))]
	lines := append(append(head, ""), s.rows.form.Lines(layout.Size{W: size.W, H: max(size.H-len(head)-1, 1)})...)
	return strings.Join(lines[:min(len(lines), max(size.H, 1))], "\n")
}
