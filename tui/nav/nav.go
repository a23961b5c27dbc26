// Package nav says what a screen is and how one leads to another: a screen
// returns an address, and the root makes the screen that lives there.
package nav

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// Screen is one screen of the program. It has pointer receivers and keeps its
// own state; Update returns only a command. It never reads or writes the store
// itself but in commands.
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
	// Typing says that letters are text now, so that no letter is a command of
	// the root.
	Typing() bool
	// Escape is asked before esc leaves the screen; true means that the screen
	// used the key itself, to close something within.
	Escape() bool
}

// Saver is a screen that writes to the record. While it waits for the answer of
// the store the program is not left, so that what was accepted is on the disk.
type Saver interface {
	// Saving says that a write is on its way.
	Saving() bool
}

// LongReader is a screen whose reading is given up where another screen takes the top.
type LongReader interface {
	// Hidden says that the screen is covered or closed; nav.ShownMsg comes when it is on top again.
	Hidden()
}

// Leaver is a screen from which esc may lead elsewhere than to the screen below.
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
	// SaidMsg carries a sentence that comes from beside the screens; nothing changes.
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

// Replace returns a command that opens a screen in place of the present one, or
// goes back to it where it lies below.
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
