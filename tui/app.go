// Package tui is the program in the terminal. Its root model holds the size, the stack of screens and the frame; it does
// not know the keys of any screen.
package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
)

// App is the root model.
type App struct {
	deps    *nav.Deps
	makers  map[nav.Name]nav.Maker
	stack   []stackEntry
	size    layout.Size
	problem string
	done    string       // what was done, until the next key
	alarm   string       // set after the chip of another horse was read; no key works until it is acknowledged
	leaving bool         // ctrl+c came while an answer was being written
	closed  []nav.Screen // closed with esc while they waited for the store
	watches watches
}

// New makes the root with its first screen on the stack. Further addresses are opened on top of it, in order. Makers are
// the screens by name; see Screens.
func New(deps *nav.Deps, makers map[nav.Name]nav.Maker, first nav.Address, then ...nav.Address) *App {
	a := &App{deps: deps, makers: makers, watches: watches{deps: deps}}
	for _, to := range append([]nav.Address{first}, then...) {
		a.push(a.deps, to)
	}
	return a
}

// Init starts every screen on the stack, and looks for watches that run.
func (a *App) Init() tea.Cmd {
	cmds := make([]tea.Cmd, len(a.stack))
	for i, s := range a.stack {
		cmds[i] = s.Init()
	}
	return tea.Batch(append(cmds, a.watches.read())...)
}

// warmAfter is how long after the start the store is prepared for its first write: the first frame and list are drawn by
// then.
const warmAfter = 150 * time.Millisecond

type warmMsg struct{}

// warm prepares the store for its first write, so that a damaged record is reported now and not at the first answer.
func (a *App) warm() tea.Cmd {
	ready := a.deps.Warm
	return func() tea.Msg {
		if err := ready(); err != nil {
			return nav.FailMsg{Err: err}
		}
		return nil
	}
}

// leaveMsg ends the program: the store has answered the write that leaving waited for.
type leaveMsg struct{}

// Update passes every message on. After ctrl+c during a write the program ends once the store has answered; if it answers
// with an error, the program stays and shows it.
func (a *App) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	waiting, top := a.leaving && a.saving(), a.top().Screen
	cmd := a.update(msg)
	if reader, reads := top.(nav.LongReader); reads && a.top().Screen != top {
		reader.Hidden()
	}
	if waiting && a.leaving && !a.saving() {
		return a, tea.Sequence(cmd, func() tea.Msg { return leaveMsg{} })
	}
	return a, cmd
}

// update handles presses with the time that the keyboard gave them, and every other message.
func (a *App) update(msg tea.Msg) tea.Cmd {
	switch m := msg.(type) {
	case keys.Press:
		return a.press(m)
	case tea.KeyMsg: // without a keyboard before it: each letter is a press
		var cmds []tea.Cmd
		for _, p := range singly(m, a.deps.Now()) {
			cmds = append(cmds, a.press(p))
		}
		return tea.Batch(cmds...)
	case scannedMsg:
		return a.takeScan(m)
	case tea.WindowSizeMsg:
		first := a.size.W == 0
		a.size = layout.Size{W: m.Width, H: m.Height}
		if first && a.deps.Warm != nil {
			return a.deps.Later(warmAfter, warmMsg{})
		}
		return nil
	case warmMsg:
		return a.warm()
	case nav.GoMsg:
		return a.open(a.top().deps, m.To)
	case nav.ReplaceMsg:
		if n := len(a.stack); n > 1 && a.stack[n-2].is(m.To) { // the screen is already below: go back to it
			return a.back()
		}
		deps := a.top().deps
		a.stack = a.stack[:len(a.stack)-1]
		return a.open(deps, m.To)
	case nav.BackMsg:
		return a.back()
	case nav.HomeMsg:
		a.stack = a.stack[:1]
		return a.top().Update(nav.ShownMsg{})
	case nav.FailMsg:
		a.problem, a.leaving = m.Err.Error(), false
		return nil
	case nav.WatchingMsg:
		return a.watches.read()
	case readWatchesMsg:
		return a.watches.take(m)
	case tickWatchesMsg:
		return a.watches.tick(m)
	case nav.SaidMsg:
		a.problem, a.done = m.Text, ""
		if m.Done {
			a.problem, a.done = "", m.Text
		}
		return nil
	case nav.SharedMsg:
		return a.shared(m)
	case leaveMsg:
		if a.leaving {
			return tea.Quit
		}
		return nil
	case nav.RoutineMsg:
		for _, f := range a.stack {
			f.deps.Routines = exam.WithRoutine(f.deps.Routines, m.Routine)
		}
		return nil
	case nav.SettingsMsg:
		a.settle(m.Settings)
		return a.top().Update(m)
	default:
		return a.all(msg)
	}
}

// press handles the keys that are the same everywhere and hands on the rest.
func (a *App) press(p keys.Press) tea.Cmd {
	a.problem, a.done = "", ""
	switch {
	case keys.Leave().Is(p) && a.saving() && !a.leaving:
		a.leaving = true // leaves after the answer; pressed again it leaves at once, even if the write has not finished
		return nil
	case keys.Leave().Is(p):
		return tea.Quit
	case a.leaving:
		return nil
	case a.size.Small() && a.size.W > 0:
		return nil // the screen cannot be seen
	case a.alarm != "" && keys.Understood().Is(p):
		a.alarm = ""
		return nil
	case a.alarm != "":
		return nil
	case keys.Watched().Is(p) && len(a.watches.running) > 0:
		return a.watch()
	case keys.Back().Is(p):
		if a.top().Escape() {
			return nil
		}
		if leaver, ok := a.top().Screen.(nav.Leaver); ok {
			if to, instead := leaver.Instead(); instead {
				return a.update(nav.ReplaceMsg{To: to})
			}
		}
		return a.back()
	case keys.Help().Is(p) && !a.top().Typing():
		top := a.top()
		return a.open(top.deps, nav.Address{Screen: nav.Help, For: &nav.HelpPage{Title: top.Title(), Keys: top.Keys()}})
	}
	if p.Paste {
		return a.paste(p)
	}
	return a.top().Update(p)
}

// paste passes pasted text to the screen on top; where that does not take text, the person is told.
func (a *App) paste(p keys.Press) tea.Cmd {
	before := a.View()
	cmd := a.top().Update(p)
	if cmd == nil && a.View() == before {
		a.problem = "Pasted text was ignored: nothing is typed here. Nothing was answered."
	}
	return cmd
}
