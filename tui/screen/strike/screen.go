// Package strike is the screen on which a whole visit that was entered on the
// wrong horse is struck, and entered again for the right one. Nothing is erased:
// a struck visit stays readable, is marked everywhere and counts nowhere.
package strike

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/form"
)

type screen struct {
	deps *nav.Deps
	id   exam.VisitID

	loaded bool
	visit  exam.Visit
	horses []exam.Horse
	form   *form.Form
	why    *form.Text
	again  *form.Text
	by     *form.Text

	saving bool
	leave  bool // esc was pressed once
	said   string
}

// New makes the screen that strikes the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen { return &screen{deps: deps, id: to.Visit} }

func (s *screen) Init() tea.Cmd { return s.load() }

func (s *screen) Title() string {
	if !s.loaded {
		return "Strike a visit"
	}
	return fmt.Sprintf("Strike: %s, %s", exam.CleanLine(s.visit.Horse.Name, 30), s.visit.OpenedAt.Format("2 Jan 2006 15:04"))
}

func (s *screen) Right() string      { return "" }
func (s *screen) Cautions() []string { return s.visit.Horse.Cautions }
func (s *screen) Typing() bool       { return s.loaded && s.form.Typing() }

// Typed is the form: what is typed there can be taken back.
func (s *screen) Typed() keys.Light {
	if !s.loaded || s.saving {
		return nil
	}
	return s.form
}

// Saving says that a write is on its way; the program is not left before its answer.
func (s *screen) Saving() bool { return s.saving }

// Escape asks once before what was typed is thrown away.
func (s *screen) Escape() bool {
	if !s.loaded || s.saving || s.leave || !s.form.Changed() {
		return false
	}
	s.leave, s.said = true, "esc again leaves; nothing is struck"
	return true
}

func (s *screen) Keys() []keys.Binding {
	if !s.loaded {
		return nil
	}
	return s.form.Keys()
}

// build makes the form.
func (s *screen) build() {
	o := entry.Options{Theme: s.deps.Theme, Now: s.deps.Now, Settings: s.deps.Settings}
	words := "strike this visit"
	s.why = form.NewText("why", "", 0, needs("say why it is struck"), o).
		Hint(func(string) string {
			return "in a few words, for whoever reads this in years: entered on the wrong horse"
		})
	s.again = form.NewText("right horse", "", 80, s.checkHorse, o).Hint(s.horseHint).Chip()
	s.by = form.NewText("by whom", s.deps.Settings.Person, 60, needs("say who strikes it"), o)
	if st := s.visit.Struck; st != nil { // struck before, and not entered again
		words = "enter it again"
		s.again = form.NewText("right horse", "", 80, s.mustFind, o).Hint(s.horseHint).Chip()
	}
	s.form = form.New(s.deps.Theme, words, "do it")
	s.form.Add(s.why, nil)
	s.form.Add(s.again, nil)
	s.form.Add(s.by, nil)
	s.form.Begin()
}

func needs(what string) func(string) error {
	return func(text string) error {
		if text == "" {
			return &exam.Refusal{Why: what}
		}
		return nil
	}
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case loadedStrikeMsg:
		return s.take(m)
	case struckVisitMsg:
		return s.struck(m)
	case keys.Press:
		return s.press(m)
	}
	return nil
}

func (s *screen) press(p keys.Press) tea.Cmd {
	if !s.loaded || s.saving {
		return nil
	}
	s.leave, s.said = false, ""
	if s.form.Press(p) != form.Save {
		return nil
	}
	if !s.form.Check() {
		s.said = "nothing is struck yet: look at the line under the cursor"
		return nil
	}
	s.saving = true
	return s.strike()
}

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the visit .."
	}
	return s.draw(size)
}
