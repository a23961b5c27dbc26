// Package share is the screen for several laptops that share one record: the state of sharing, and the actions, step by
// step.
package share

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/keys"
	"loosebox/tui/nav"
	"loosebox/tui/screen/base"
	"loosebox/tui/screen/form"
	"loosebox/tui/screen/list"
)

type screen struct {
	base.Screen
	state  nav.ShareState
	cursor list.List

	act  *nav.ShareAct // nil while one is chosen
	form *form.Form
	rows []row
	step *nav.ShareStep // what came of it; nil while the form is open
	busy bool           // the act is under way
	// leave says that esc was pressed once in a form in which something was typed.
	leave bool
}

// row is a line of a form whose text is read.
type row interface {
	form.Widget
	Content() string
}

// New makes the page.
func New(deps *nav.Deps, _ nav.Address) nav.Screen {
	s := &screen{}
	s.Screen = base.Screen{Deps: deps, Load: s.load, Press: s.press}
	return s
}

func (s *screen) load() tea.Cmd { return s.read(func() tea.Cmd { return nil }) }

// read reads how sharing stands, and goes on.
func (s *screen) read(then func() tea.Cmd) tea.Cmd {
	sharing := s.Deps.Sharing
	if sharing == nil {
		s.Loaded = true
		return nil
	}
	return base.Read(s, sharing.State, func(state nav.ShareState) tea.Cmd {
		if len(state.Acts) != len(s.state.Acts) { // other acts: nothing is chosen by where the cursor was
			s.cursor.Cursor = 0
		}
		s.state = state
		return then()
	})
}

func (s *screen) Title() string {
	if s.act != nil {
		return "Several laptops · " + s.act.Name
	}
	return "Several laptops"
}

// Typing says that letters are text.
func (s *screen) Typing() bool { return s.open() && s.form.Typing() }

// Typed is the form.
func (s *screen) Typed() keys.Light {
	if !s.open() {
		return nil
	}
	return s.form
}

// open says that a form takes keys.
func (s *screen) open() bool { return s.act != nil && s.step == nil && !s.busy }

// Escape closes what came of an act, then its form; it asks once before what was typed is
// lost. An act under way goes on.
func (s *screen) Escape() bool {
	switch {
	case s.act == nil || s.busy:
		return false
	case s.open() && !s.leave && s.form.Changed():
		s.leave = true
		return true
	}
	s.close()
	return true
}

// close goes back to the list of acts.
func (s *screen) close() {
	s.leave = false
	s.act, s.step, s.form, s.rows = nil, nil, nil, nil
}

// Update reads again when something was shared.
func (s *screen) Update(msg tea.Msg) tea.Cmd {
	if _, ok := msg.(nav.SharedMsg); ok {
		return s.load()
	}
	return s.Screen.Update(msg)
}

func yes() keys.Binding {
	return keys.Yes().With("the same", "the words are the same on both laptops")
}
func no() keys.Binding { return keys.No().With("not the same", "the words differ: stop here") }

func (s *screen) Keys() []keys.Binding {
	switch {
	case s.busy:
		return nil
	case s.act == nil && len(s.state.Acts) == 0:
		return nil
	case s.act == nil:
		return []keys.Binding{keys.Digit(), keys.Up(), keys.Choose()}
	case s.step != nil && s.step.Ask != "":
		return []keys.Binding{yes(), no()}
	case s.step != nil:
		return []keys.Binding{keys.Accept().With("close", "back to the page")}
	}
	return s.form.Keys()
}

func (s *screen) press(p keys.Press) tea.Cmd {
	s.leave = false
	switch {
	case s.busy || !s.Loaded:
	case s.act == nil:
		return s.choose(p)
	case s.step != nil && s.step.Ask != "":
		return s.answer(p)
	case s.step != nil:
		if keys.Accept().Is(p) {
			s.close()
			return s.load()
		}
	case s.form.Press(p) == form.Save && s.form.Check():
		values := make([]string, len(s.rows))
		for i, r := range s.rows {
			values[i] = r.Content()
		}
		do := s.act.Do
		return s.run(func() (nav.ShareStep, error) { return do(values) })
	}
	return nil
}
