// Package base is embedded by screens: it knows whether the record was read and whether a write has no answer yet, and
// returns the answer of a command to the screen that sent it.
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

// Screen is embedded by a screen, which adds Title, Keys and View. It may replace the other methods by its own.
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

// VisitTitle is word with the horse's name and the time of the visit; only word until the visit was read.
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

// Right is empty: no text at the right of the first line.
func (s *Screen) Right() string { return "" }

// Cautions is nil: the screen is not about a horse.
func (s *Screen) Cautions() []string { return nil }

// Typing is false: letters are keys.
func (s *Screen) Typing() bool { return false }

// Escape is false: esc closes the screen.
func (s *Screen) Escape() bool { return false }

// Saving reports whether a write has no answer yet; the program does not end before the answer.
func (s *Screen) Saving() bool { return s.saving }

// Update handles the answers of Read and Write, and passes keys to Press unless a write has no answer yet.
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

// Hidden stops a long read: the screen is covered or closed.
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

// Of is anything that embeds a Screen.
type Of interface{ Base() *Screen }

// Read returns a command that runs read. Its value is passed to take, on the event loop as in Update; an error is shown
// instead, and the screen stays as it was.
func Read[T any](of Of, read func() (T, error), take func(T) tea.Cmd) tea.Cmd {
	s := of.Base()
	return func() tea.Msg {
		v, err := read()
		return answerMsg{to: s, err: err, then: func() tea.Cmd { return take(v) }}
	}
}

// Write returns a command that runs write. Until its answer, the screen takes no key and the program does not end. Its
// value is passed to then, on the event loop as in Update; an error is shown instead, and what was typed stays.
func Write[T any](of Of, write func() (T, error), then func(T) tea.Cmd) tea.Cmd {
	s := of.Base()
	s.saving = true
	return func() tea.Msg {
		v, err := write()
		return answerMsg{to: s, written: true, err: err, then: func() tea.Cmd { return then(v) }}
	}
}

// Unread wraps an error in a sentence that says what cannot be read; nil for nil.
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

// KeepScatter returns a command that stores a person's tap scatter in the settings and then calls kept. Again is the key
// named in the message that it could not be stored.
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
