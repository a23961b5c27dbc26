package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// stackEntry is a screen on the stack with its deps, which screens opened from it get too.
type stackEntry struct {
	nav.Screen
	deps *nav.Deps
	at   nav.Address
}

// is reports whether the entry was opened at this address.
func (e stackEntry) is(to nav.Address) bool {
	return e.at.Screen == to.Screen && e.at.Visit == to.Visit && e.at.Number == to.Number
}

// saving reports whether a screen waits for the answer of a write.
func (a *App) saving() bool {
	return slices.ContainsFunc(a.stack, func(e stackEntry) bool { return writes(e.Screen) }) || slices.ContainsFunc(a.closed, writes)
}

func writes(s nav.Screen) bool {
	w, ok := s.(nav.Saver)
	return ok && w.Saving()
}

// all passes a message to every screen: an answer from the store may belong to one that is covered or closed now.
func (a *App) all(msg tea.Msg) tea.Cmd {
	stays := a.closed[:0]
	var failed []tea.Cmd
	for _, s := range a.closed {
		failed = append(failed, onlyFailure(s.Update(msg)))
		if writes(s) {
			stays = append(stays, s)
		}
	}
	a.closed = stays
	cmds := make([]tea.Cmd, len(a.stack), len(a.stack)+len(failed))
	for i, s := range a.stack {
		cmds[i] = s.Update(msg)
	}
	return tea.Batch(append(cmds, failed...)...)
}

// onlyFailure drops every message of a closed screen but the one that its write failed.
func onlyFailure(cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return func() tea.Msg {
		if fail, ok := cmd().(nav.FailMsg); ok {
			return fail
		}
		return nil
	}
}

func (a *App) top() stackEntry { return a.stack[len(a.stack)-1] }

// settle applies stored settings to the deps of every screen on the stack.
func (a *App) settle(set exam.Settings) {
	t := a.deps.Theme.As(theme.Name(set.Theme))
	judge := a.deps.Judge.Reads(set.Units)
	a.deps.Settings, a.deps.Theme, a.deps.Judge = set, t, judge
	for _, f := range a.stack {
		f.deps.Settings, f.deps.Theme, f.deps.Judge = set, t, judge
	}
}

// push makes the screen of the address, from to.With if set, else from deps; false for a name without a maker.
func (a *App) push(deps *nav.Deps, to nav.Address) bool {
	maker, ok := a.makers[to.Screen]
	if !ok {
		a.problem = fmt.Sprintf("there is no screen %q", to.Screen)
		return false
	}
	if to.With != nil {
		deps = to.With
	}
	a.stack = append(a.stack, stackEntry{maker(deps, to), deps, to})
	return true
}

func (a *App) open(deps *nav.Deps, to nav.Address) tea.Cmd {
	if !a.push(deps, to) {
		return nil
	}
	return a.top().Init()
}

// back closes the top screen, but never the first one: esc does not leave the program.
func (a *App) back() tea.Cmd {
	if len(a.stack) == 1 {
		return nil
	}
	if top := a.top().Screen; writes(top) {
		a.closed = append(a.closed, top)
	}
	a.stack = a.stack[:len(a.stack)-1]
	return a.top().Update(nav.ShownMsg{})
}
