// Package flow is what the screens of an injection and of a blood draw are made
// of: a screen that is one part at a time, each part a small state of its own.
// What a part decides is written to the record, and only then does the screen ask
// its flow which part comes next for the visit as it stands.
package flow

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/procedure"
	"loosebox/tui/caution"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/needle"
	"loosebox/tui/screen/source"
)

// Part is one state of a flow.
type Part interface {
	// Lines draws at most size.H lines of at most size.W columns.
	Lines(size layout.Size) []string
	Press(p keys.Press) tea.Cmd
	Keys() []keys.Binding
	Typing() bool
	// Escape is asked before esc leaves the screen; true means that the part used
	// the key itself.
	Escape() bool
}

// ScanPart is a part that makes something of a chip that was read.
type ScanPart interface {
	// TakeScan says whether it took the chip.
	TakeScan(nav.Scan) (tea.Cmd, bool)
}

// Flow says which part comes next and what the screen is called.
type Flow interface {
	// Next is the part for the visit as it stands.
	Next() Part
	// Title is the left part of the top line, Right its right part.
	Title() string
	Right() string
	// Number is that of the injection or draw; 0 while it has none.
	Number() int
	// Sources says where the numbers on the screen come from; empty where it shows none.
	Sources() []explain.Part
}

// Screen is the nav.Screen of a flow.
type Screen struct {
	Deps  *nav.Deps
	Name  nav.Name
	ID    exam.VisitID
	Stand needle.Stand
	// By is who does it, on every line that is written.
	By string

	flow   Flow
	part   Part
	loaded bool
	saving bool
	said   string
	told   caution.Told
	open   bool // all cautions are shown
	origin source.Panel
}

// New makes the screen of a visit; the flow is handed over with Run.
func New(deps *nav.Deps, to nav.Address) *Screen {
	return &Screen{Deps: deps, Name: to.Screen, ID: to.Visit}
}

// Run gives the screen its flow.
func (s *Screen) Run(f Flow) { s.flow = f }

// Start puts a part up before the visit is read, and where it cannot be read.
func (s *Screen) Start(p Part) { s.loaded, s.part = true, p }

// Ready says that the visit was read.
func (s *Screen) Ready() bool { return s.Stand.Visit.ID != "" }

// loadedMsg is the visit read from the store.
type loadedMsg struct {
	to    *Screen
	stand needle.Stand
	err   error
}

// writtenMsg says that lines are on the disk, or why not.
type writtenMsg struct {
	to      *Screen
	lines   []exam.Entry
	stand   needle.Stand
	watches bool
	err     error
}

// Init reads the visit.
func (s *Screen) Init() tea.Cmd { return s.load() }

func (s *Screen) load() tea.Cmd {
	deps, id := s.Deps, s.ID
	return func() tea.Msg {
		stand, err := needle.Look(deps, id)
		return loadedMsg{to: s, stand: stand, err: err}
	}
}

// Write asks the gate once more and writes lines of the record, each durable
// before the next. The screen goes on when they are on the disk.
func (s *Screen) Write(lines ...exam.Entry) tea.Cmd {
	s.saving, s.said = true, ""
	watches := false
	for i := range lines {
		lines[i] = s.signed(lines[i])
		watches = watches || lines[i].Watch != nil
	}
	deps := s.Deps
	return func() tea.Msg {
		stand, err := needle.Write(deps, lines...)
		return writtenMsg{to: s, lines: lines, stand: stand, watches: watches, err: err}
	}
}

func (s *Screen) signed(e exam.Entry) exam.Entry {
	e.Visit, e.By, e.At = s.ID, s.By, s.Deps.Now()
	return e
}

// Inject writes a line of an injection.
func (s *Screen) Inject(l exam.InjectionLine) tea.Cmd {
	return s.Write(exam.Entry{Kind: exam.EntryInjection, Injection: &l})
}

// Give writes that an injection was given, and the beginning of its watch.
func (s *Screen) Give(l exam.InjectionLine) tea.Cmd {
	return s.Write(needle.Given(s.Deps, exam.Entry{}, l)...)
}

// Draw writes a line of a blood draw.
func (s *Screen) Draw(l exam.DrawLine) tea.Cmd {
	return s.Write(exam.Entry{Kind: exam.EntryDraw, Draw: &l})
}

// Show puts a part up without asking the flow.
func (s *Screen) Show(p Part) { s.part = p }

// Next asks the flow which part comes next.
func (s *Screen) Next() {
	s.said, s.open = "", false
	s.part = s.flow.Next()
}

// Following is the part that the flow shows for the visit as it stands.
func (s *Screen) Following() Part { return s.flow.Next() }

// Say puts a sentence under the part until the next key.
func (s *Screen) Say(text string) { s.said = text }

// Tell shows the cautions of a moment above the part.
func (s *Screen) Tell(m procedure.Moment) {
	s.told = s.Deps.Tell(s.ID, procedure.At(s.Stand.Visit, m))
}

// Keep holds cautions ready for the key that shows them, without showing any.
func (s *Screen) Keep(list []procedure.Caution) { s.told = caution.Told{All: list} }

// Options are what the fields of a part are made of.
func (s *Screen) Options() entry.Options {
	return entry.Options{Theme: s.Deps.Theme, Now: s.Deps.Now, Settings: s.Deps.Settings}
}

// Update takes what the store answers, and keys.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case loadedMsg:
		return s.take(m)
	case writtenMsg:
		return s.written(m)
	case nav.ShownMsg:
		return s.load()
	case keys.Press:
		return s.press(m)
	}
	return nil
}

// take puts a loaded visit up; a part that is being filled in stays where nothing
// was written meanwhile.
func (s *Screen) take(m loadedMsg) tea.Cmd {
	if m.to != s {
		return nil
	}
	if m.err != nil {
		return nav.Fail(m.err)
	}
	fresh := !s.Ready() || s.Stand.Visit.Entries != m.stand.Visit.Entries
	s.loaded, s.Stand = true, m.stand
	if s.By == "" {
		s.By = s.Deps.Person(s.Stand.Visit)
	}
	if _, locked := s.part.(*Locked); fresh || locked {
		s.Next()
	}
	return nil
}

// written goes on where the lines are stored, and says why where they are not.
func (s *Screen) written(m writtenMsg) tea.Cmd {
	if m.to != s {
		return nil
	}
	s.saving = false
	if m.stand.Visit.ID != "" {
		s.Stand = m.stand
	}
	var refusal *exam.Refusal
	switch {
	case m.err == nil:
		s.tellPatient(m.lines)
		s.Next()
		if m.watches {
			return nav.Watching()
		}
		return nil
	case errors.As(m.err, &refusal):
		s.Say("Not written down: " + refusal.Error())
		return nil
	case errors.Is(m.err, exam.ErrRefused):
		s.Next() // the flow asks the gate as well and shows the lock
		s.Say("Not written down: " + m.err.Error())
		return nil
	}
	return nav.Fail(m.err)
}

func (s *Screen) press(p keys.Press) tea.Cmd {
	if !s.loaded || s.saving {
		return nil
	}
	switch {
	case keys.Dangers().Is(p) && s.Name != nav.Dangers:
		return nav.Go(nav.Address{Screen: nav.Dangers, Visit: s.ID, Number: s.flow.Number(), From: s.Name})
	case s.origin.Press(p):
		return nil
	case keys.Cautions().Is(p) && !s.part.Typing():
		s.open = !s.open
		return nil
	case keys.Source().Is(p) && !s.open && s.sourced() && !s.part.Typing():
		s.origin.Show(s.flow.Title(), s.flow.Sources())
		return nil
	case s.open:
		return nil
	}
	s.said = ""
	return s.part.Press(p)
}
