// Package tour is the tour of five minutes: every key of an exam once, on the exam screen itself with a simulated horse, and
// then a whole rehearsal of a short routine.
package tour

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	ward "loosebox/tui/screen/rehearse"
)

// The pages, as Address.Number.
const (
	first = 0 // what the tour is
	done  = 1 // it is over: the rehearsal
)

type screen struct {
	base.Screen
	page   int
	asking bool // the horse is being made
}

// New makes a page of the tour.
func New(deps *nav.Deps, to nav.Address) nav.Screen {
	s := &screen{page: to.Number}
	s.Screen = base.Screen{Deps: deps, Press: s.press}
	return s
}

func (s *screen) Title() string { return "Tour" }

// Right says that nothing is written.
func (s *screen) Right() string { return "nothing is saved" }

func (s *screen) Keys() []keys.Binding {
	if s.page == done {
		return []keys.Binding{keys.Accept().With("rehearse", "rehearse a short routine with a simulated horse, with marks")}
	}
	return []keys.Binding{keys.Accept().With("begin", "begin the tour")}
}

func (s *screen) press(p keys.Press) tea.Cmd {
	switch {
	case !keys.Accept().Is(p) || s.asking:
		return nil
	case s.page == done:
		return nav.Replace(nav.Address{Screen: nav.Rehearse, Routine: short, Play: &nav.Play{Case: shortCase}})
	}
	s.asking = true
	deps := s.Deps
	type ready struct {
		own *nav.Deps
		err error
	}
	return base.Read(s, func() (r ready, _ error) {
		r.own, r.err = begin(deps)
		return r, nil
	}, func(r ready) tea.Cmd {
		s.asking = false
		if r.err != nil {
			return nav.Fail(r.err)
		}
		return nav.Replace(nav.Address{Screen: nav.Exam, Horse: paperHorse, Visit: paperVisit, With: r.own})
	})
}

// begin makes the horse and its visit, on paper, and what the exam screen is made of.
func begin(d *nav.Deps) (*nav.Deps, error) {
	failed := func(err error) (*nav.Deps, error) {
		return nil, fmt.Errorf("the tour cannot begin; nothing was changed: %w", err)
	}
	cases, err := rehearse.Cases(d.Steps, d.Ranges)
	if err != nil {
		return failed(err)
	}
	c, ok := rehearse.CaseNamed(cases, shortCase)
	if !ok {
		return failed(fmt.Errorf("case %s: %w", shortCase, exam.ErrNotFound))
	}
	h, err := rehearse.New(c, shortSeed, d.Now(), d.Steps, d.Ranges)
	if err != nil {
		return failed(err)
	}
	animal := h.Animal
	animal.ID = paperHorse
	p := &paper{Store: d.Store}
	by := d.Settings.Person
	if by == "" {
		by = "you"
	}
	v, err := p.Begin(exam.Entry{Kind: exam.EntryOpened, At: d.Now(), By: by, Opening: h.Opening(animal, routine().Name)})
	if err != nil {
		return failed(err)
	}
	own := *d
	own.Rehearsals, own.Routines = p, append([]exam.Routine{routine()}, d.Routines...)
	out := ward.Within(&own, h, v)
	out.Patient = newCoach(out.Patient, d.Theme)
	return out, nil
}

// words are the paragraphs of a page.
func (s *screen) words() []string {
	if s.page == done {
		return []string{
			"Those were the keys of an exam: choose, usual, later, tap, order, not done, review. ? on any screen explains its keys.",
			fmt.Sprintf("Next: the routine %s from start to end, with a new simulated horse, about five minutes. It is marked afterwards, with the right answer beside yours. Rehearsals are never mixed with real visits.", shortTitle(s.Deps.Routines)),
			"enter goes there; esc goes home. j on the home screen rehearses at any time.",
		}
	}
	return []string{
		"Five minutes with a simulated horse: five steps on the real exam screen, with the real keys.",
		"At each step the tour tells you which key to try. Nothing can go wrong: nothing of the tour is saved.",
		"At the left are the steps: > here, + answered, x not done, - to do. At the bottom are the keys that work now. esc goes back; ctrl+c leaves the program.",
		"Afterwards you can rehearse a short routine, with marks.",
	}
}

func (s *screen) View(size layout.Size) string {
	var lines []string
	for _, text := range s.words() {
		lines = append(append(lines, ""), layout.Wrap(s.Deps.Theme.Letters(text), size.W)...)
	}
	if s.asking {
		lines = append(lines, "", s.Deps.Theme.Faint.Render("fetching the horse .."))
	}
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}
