// Package nav defines what a screen is and how one opens another: a screen returns an address in a message, and the root
// makes the screen of that address.
package nav

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// Screen is one screen of the program. It has pointer receivers and keeps its own state; Update returns only a command. It
// reads and writes the store in commands only.
type Screen interface {
	Init() tea.Cmd
	// Update takes a message. Keys come as keys.Press.
	Update(tea.Msg) tea.Cmd
	// View draws the body: at most size.H lines of at most size.W columns.
	View(size layout.Size) string
	// Title is the left part of the top line, Right its right part.
	Title() string
	Right() string
	// Cautions are the horse's handling cautions, empty on screens without a horse.
	Cautions() []string
	// Keys are the bindings in the order of the bottom line.
	Keys() []keys.Binding
	// Typing reports whether letters are text now; the root then takes no letter as a key of its own.
	Typing() bool
	// Escape is called for esc before the screen is closed; true means that the screen used the key, to close something
	// within it.
	Escape() bool
}

// Saver is a screen that writes to the record. The program does not end while it waits for the answer of the store.
type Saver interface {
	// Saving reports whether a write has no answer yet.
	Saving() bool
}

// LongReader is a screen that stops a long read when another screen covers it.
type LongReader interface {
	// Hidden is called when the screen is covered or closed; ShownMsg comes when it is on top again.
	Hidden()
}

// Leaver is a screen from which esc may open another screen than the one below.
type Leaver interface {
	// Instead is the screen that takes the place of this one; false for the one below.
	Instead() (Address, bool)
}

// The messages that lead from screen to screen.
type (
	// GoMsg opens a screen on top of the present one.
	GoMsg struct{ To Address }
	// ReplaceMsg opens a screen in place of the present one.
	ReplaceMsg struct{ To Address }
	// BackMsg goes back one screen.
	BackMsg struct{}
	// HomeMsg goes back to the first screen.
	HomeMsg struct{}
	// ShownMsg tells a screen that it is on top again after another one closed.
	ShownMsg struct{}
	// FailMsg carries an error that a person must read; the screen stays.
	FailMsg struct{ Err error }
	// WatchingMsg tells the root that a watch began or ended: it reads them again.
	WatchingMsg struct{}
	// ClockMsg comes once a second while a watch runs, and only then.
	ClockMsg struct{ Now time.Time }
	// SaidMsg carries a sentence to show until the next key; it changes nothing.
	SaidMsg struct {
		Text string
		Done bool // it says what was done, and no problem
	}
	// SharedMsg tells how sharing with other laptops stands, after each exchange.
	SharedMsg struct {
		At      time.Time // of the last exchange; zero for none yet
		Waiting []Waits
		Out     bool   // this laptop was taken out of the practice
		Came    int    // lines that came in now
		Problem string // a sentence, the first time it is so
	}
	// RoutineMsg tells of a routine that was stored, new or changed.
	RoutineMsg struct{ Routine exam.Routine }
	// SettingsMsg tells that the settings were changed and stored.
	SettingsMsg struct{ Settings exam.Settings }
)

// Go returns a command that opens a screen.
func Go(to Address) tea.Cmd { return func() tea.Msg { return GoMsg{to} } }

// Replace returns a command that opens a screen in place of the present one, or goes back to it where it is on the stack
// already.
func Replace(to Address) tea.Cmd { return func() tea.Msg { return ReplaceMsg{to} } }

// Back returns a command that goes back one screen.
func Back() tea.Cmd { return func() tea.Msg { return BackMsg{} } }

// ToHome returns a command that goes back to the first screen.
func ToHome() tea.Cmd { return func() tea.Msg { return HomeMsg{} } }

// Watching returns a command that tells of a watch that began or ended.
func Watching() tea.Cmd { return func() tea.Msg { return WatchingMsg{} } }

// Fail returns a command that shows an error.
func Fail(err error) tea.Cmd { return func() tea.Msg { return FailMsg{err} } }

// Settled returns a command that tells of settings that were stored.
func Settled(set exam.Settings) tea.Cmd { return func() tea.Msg { return SettingsMsg{set} } }

// Kept returns a command that tells of a routine that was stored.
func Kept(r exam.Routine) tea.Cmd { return func() tea.Msg { return RoutineMsg{r} } }
