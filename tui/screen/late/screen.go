// Package late is the screen on which something is added to a closed visit: what,
// when it happened, and why it is written only now. The entry says that it is late.
package late

import (
	"fmt"
	"strings"

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
	form   *form.Form
	what   *form.Text
	when   *form.Text
	why    *form.Text
	by     *form.Text

	saving bool
	leave  bool // esc was pressed once
	said   string
}

// New makes the screen that adds to the visit in the address.
func New(deps *nav.Deps, to nav.Address) nav.Screen { return &screen{deps: deps, id: to.Visit} }

type loadedLateMsg struct {
	to    *screen
	visit exam.Visit
	err   error
}

type addedLaterMsg struct {
	to  *screen
	err error
}

func (s *screen) Init() tea.Cmd {
	store, id := s.deps.Store, s.id
	return func() tea.Msg {
		v, err := store.Visit(id)
		return loadedLateMsg{to: s, visit: v, err: err}
	}
}

func (s *screen) Title() string {
	if !s.loaded {
		return "Add later"
	}
	return fmt.Sprintf("Add later: %s, %s", exam.CleanLine(s.visit.Horse.Name, 30), s.visit.OpenedAt.Format("2 Jan 2006 15:04"))
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
	s.leave, s.said = true, "esc again leaves without storing what you typed; ctrl+s stores it"
	return true
}

func (s *screen) Keys() []keys.Binding {
	if !s.loaded {
		return nil
	}
	return s.form.Keys()
}

func (s *screen) build() {
	o := entry.Options{Theme: s.deps.Theme, Now: s.deps.Now, Settings: s.deps.Settings}
	s.what = form.NewText("what", "", exam.MaxNote, needs("write down what was forgotten"), o)
	s.when = form.NewText("happened", s.visit.OpenedAt.Format("2006-01-02 15:04"), 40, s.checkWhen, o).Hint(s.whenHint)
	s.why = form.NewText("why only now", "", 0, needs("say why it is written only now"), o)
	s.by = form.NewText("by whom", s.deps.Settings.Person, 60, needs("say who writes it"), o)
	s.form = form.New(s.deps.Theme, "add it to the visit", "add")
	for _, row := range []form.Row{s.what, s.when, s.why, s.by} {
		s.form.Add(row, nil)
	}
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

func (s *screen) checkWhen(text string) error {
	at, err := exam.ReadWhen(text, s.visit.OpenedAt)
	if err == nil && at.After(s.deps.Now()) {
		err = &exam.Refusal{Why: "that is still to come: write when it happened"}
	}
	return err
}

func (s *screen) whenHint(text string) string {
	at, err := exam.ReadWhen(text, s.visit.OpenedAt)
	if err != nil {
		return ""
	}
	return at.Format("Monday 2 January 2006, 15:04")
}

func (s *screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case loadedLateMsg:
		if m.to != s || s.loaded {
			return nil
		}
		if m.err != nil {
			return nav.Fail(fmt.Errorf("this visit cannot be read; nothing was changed: %w", m.err))
		}
		s.loaded, s.visit = true, m.visit
		s.build()
	case addedLaterMsg:
		if m.to != s {
			return nil
		}
		s.saving = false
		if m.err != nil {
			return nav.Fail(fmt.Errorf("that is NOT stored, what you typed still stands here: %w", m.err))
		}
		return nav.Back()
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
		s.said = "nothing is stored yet: look at the line under the cursor"
		return nil
	}
	happened, err := exam.ReadWhen(s.when.Content(), s.visit.OpenedAt)
	if err != nil {
		return nav.Fail(err)
	}
	s.saving = true
	store := s.deps.Store
	e := exam.Entry{
		Visit: s.id, Kind: exam.EntryAdded, At: s.deps.Now(), By: s.by.Content(), Note: s.what.Content(),
		Amend: &exam.Amendment{Why: s.why.Content(), Happened: &happened},
	}
	return func() tea.Msg {
		_, err := store.Append(e)
		return addedLaterMsg{to: s, err: err}
	}
}

func (s *screen) View(size layout.Size) string {
	if !s.loaded {
		return "Reading the visit .."
	}
	t := s.deps.Theme
	var lines, foot []string
	if size.H > 10 {
		for _, l := range layout.Wrap("The visit is closed. What is added says that it is late, when it happened, and why. To change a finding, put the cursor on it in the review and press enter.", size.W) {
			lines = append(lines, t.Faint.Render(l))
		}
		lines = append(lines, "")
	}
	switch {
	case s.saving:
		foot = []string{t.Faint.Render("storing ..")}
	case s.said != "":
		for _, l := range layout.Wrap("! "+s.said, size.W) {
			foot = append(foot, t.Error.Render(l))
		}
	}
	room := layout.Size{W: size.W, H: max(size.H-len(lines)-len(foot), 1)}
	lines = append(lines, layout.Fit(s.form.Lines(room), room)...)
	lines = append(lines, foot...)
	return strings.Join(lines[:min(len(lines), max(size.H, 1))], "\n")
}
