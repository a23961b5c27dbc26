// Package dose is the screen on which an earlier dose is entered from a passport or other papers, to compute what is due.
// Nothing is injected, so no decision is needed. A wrong entry is corrected with a reason.
package dose

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/due"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	form.Screen
	horse  exam.HorseID
	visit  exam.VisitID
	number int // of the dose that is put right; 0 for a new one

	papers
	rows  *rows
	noted string // what was written down last
	code  *asked // what is asked of a code that was scanned; nil for nothing
}

// papers is what is read of the record.
type papers struct {
	found    exam.Horse
	by       string // who is offered as the writer
	schedule *due.Table
	stands   exam.Injection // that is put right
}

// New makes the screen of an earlier dose of the horse in the address; with a
// visit and a number, of the one that is put right.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{horse: to.Horse, visit: to.Visit, number: to.Number}
	s.Deps, s.Load, s.Store = deps, s.load, s.store
	return s
}

func (s *screen) Title() string {
	if !s.Loaded {
		return "Past dose"
	}
	return "Past dose · " + notation.CleanLine(s.found.Name, 30)
}

func (s *screen) take(p papers) tea.Cmd {
	s.papers = p
	s.rows = newRows(s, s.stands, s.by)
	return nil
}

// saved stays for the next dose of the same papers; a correction goes back.
func (s *screen) saved(said string) tea.Cmd {
	if s.number > 0 {
		return nav.Back()
	}
	basis := s.rows.basis.Content()
	s.noted, s.rows = said, newRows(s, s.stands, s.by)
	s.rows.basis.Put(basis)
	return nil
}

func (s *screen) View(size layout.Size) string {
	if !s.Loaded {
		return "Reading the horse .."
	}
	if s.code != nil {
		return s.code.draw(s, size)
	}
	t := s.Deps.Theme
	says := "A dose given before, from a passport or vaccination record. Press esc when all are saved."
	if s.number > 0 {
		says = "This corrects an earlier entry; both stay readable."
	}
	head := s.Faint(says, size.W)
	if s.noted != "" {
		head = []string{t.Good.Render(layout.Cut(s.noted, size.W)), t.Faint.Render(layout.Cut("Enter the next one, or press esc.", size.W))}
	}
	switch {
	case s.Saving():
		head = []string{"saving .."}
	case s.Said != "":
		head = layout.Wrap(s.Said, size.W)
	}
	return s.DrawUnder(size, append(head[:min(len(head), max(size.H/3, 0))], ""))
}
