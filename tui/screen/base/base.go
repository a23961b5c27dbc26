// Package base holds what most screens share: whether the record was read, whether a write is under
// way, and how the answer of a command gets back to the screen that sent it.
package base

import (
	"fmt"
	"maps"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/nav"
)

// Screen is embedded by a screen, which adds title, keys and view. The methods here are the usual
// ones; a screen that needs others defines its own.
type Screen struct {
	Deps *nav.Deps
	// Load returns the command that reads what the screen shows, made with Read. It
	// is run when the screen opens, and again when it is on top again.
	Load func() tea.Cmd
	// Press takes a key. It is not asked while a write is on its way.
	Press func(keys.Press) tea.Cmd
	// Loaded is true once something was read; take of the first Read still sees false.
	Loaded bool

	saving bool
	hidden bool
	giveUp func() // ends the long reading that runs
}

// Init reads what the screen shows.
func (s *Screen) Init() tea.Cmd {
	if s.Load == nil {
		return nil
	}
	return s.Load()
}

// VisitTitle is word with the horse's name and the visit's time; word alone until the visit was
// read.
func (s *Screen) VisitTitle(word string, v exam.Visit) string {
	if !s.Loaded {
		return word
	}
	return fmt.Sprintf("%s · %s · %s", word, notation.CleanLine(v.Horse.Name, 30), notation.ShownAt(v.OpenedAt, s.Deps.Now()))
}

// Counted is how many things the screen lists, "3 visits"; empty until they were read.
func (s *Screen) Counted(n int, what string) string {
	if !s.Loaded {
		return ""
	}
	return notation.Counted(n, what)
}

// Right is empty.
func (s *Screen) Right() string { return "" }

// Cautions are none.
func (s *Screen) Cautions() []string { return nil }

// Typing says that letters are commands.
func (s *Screen) Typing() bool { return false }

// Escape leaves the screen.
func (s *Screen) Escape() bool { return false }

// Saving says that a write is on its way; the program is not left before its answer.
func (s *Screen) Saving() bool { return s.saving }

// Update takes answers and keys.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case answerMsg:
		return s.answer(m)
	case farMsg:
		if m.to == s {
			return m.then()
		}
	case nav.ShownMsg:
		s.hidden = false
		return s.Init()
	case keys.Press:
		if !s.saving {
			return s.Press(m)
		}
	}
	return nil
}

// Hidden gives up the long reading that runs: the screen is covered or closed.
func (s *Screen) Hidden() {
	if s.hidden = true; s.giveUp != nil {
		s.giveUp()
	}
}

// answerMsg is the answer of a command to the screen that sent it.
type answerMsg struct {
	to      *Screen
	written bool
	err     error
	then    func() tea.Cmd
}

func (s *Screen) answer(m answerMsg) tea.Cmd {
	if m.to != s {
		return nil
	}
	if m.written {
		s.saving = false
	}
	if m.err != nil {
		return nav.Fail(m.err)
	}
	cmd := m.then()
	s.Loaded = s.Loaded || !m.written
	return cmd
}

// Base returns the embedded Screen, for Read and Write.
func (s *Screen) Base() *Screen { return s }

// Of is whatever embeds a Screen.
type Of interface{ Base() *Screen }

// Read returns a command that reads. What was read goes to take, which is called
// like Update; an error is shown, and the screen stays as it was.
func Read[T any](of Of, read func() (T, error), take func(T) tea.Cmd) tea.Cmd {
	s := of.Base()
	return func() tea.Msg {
		v, err := read()
		return answerMsg{to: s, err: err, then: func() tea.Cmd { return take(v) }}
	}
}

// Write returns a command that writes; until its answer is in, the screen takes no
// key and the program is not left. What came of it goes to then, which is called
// like Update; an error is shown, and what was typed stays.
func Write[T any](of Of, write func() (T, error), then func(T) tea.Cmd) tea.Cmd {
	s := of.Base()
	s.saving = true
	return func() tea.Msg {
		v, err := write()
		return answerMsg{to: s, written: true, err: err, then: func() tea.Cmd { return then(v) }}
	}
}

// Unread wraps the error of something that cannot be read in a sentence for a person; nil stays
// nil.
func Unread(what string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s cannot be read; nothing was changed: %w", what, err)
}

// OneLine joins handling cautions to one line, cut to a line's length; nil where there are none.
func OneLine(cautions []string) []string {
	text := notation.CleanLine(strings.Join(cautions, " · "), 0)
	if text == "" {
		return nil
	}
	return []string{text}
}

// KeepScatter returns a command that stores a person's tap scatter in the settings,
// and tells of it; again is the key that tries once more where it is not stored.
func KeepScatter(of Of, own exam.Scatter, again string, kept func()) tea.Cmd {
	s := of.Base()
	store, settings := s.Deps.Store, s.Deps.Settings
	settings.Scatter = maps.Clone(settings.Scatter) // what is stored is shared
	if settings.Scatter == nil {
		settings.Scatter = map[string]exam.Scatter{}
	}
	settings.Scatter[settings.Person] = own
	return Write(s, func() (exam.Settings, error) {
		err := store.SaveSettings(settings)
		if err != nil {
			err = fmt.Errorf("this accuracy is NOT saved; %s tries again: %w", again, err)
		}
		return settings, err
	}, func(settings exam.Settings) tea.Cmd {
		kept()
		return nav.Settled(settings)
	})
}
