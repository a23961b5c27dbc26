package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/theme"
)

// stackEntry is a screen on the stack with what it was made of, which whatever it
// opens is made of as well.
type stackEntry struct {
	nav.Screen
	deps *nav.Deps
	at   nav.Address
}

// is says that an address is the entry's own.
func (e stackEntry) is(to nav.Address) bool {
	return e.at.Screen == to.Screen && e.at.Visit == to.Visit && e.at.Number == to.Number
}

// saving says that a screen waits for the store.
func (a *App) saving() bool {
	return slices.ContainsFunc(a.stack, func(e stackEntry) bool { return writes(e.Screen) }) || slices.ContainsFunc(a.closed, writes)
}

func writes(s nav.Screen) bool {
	w, ok := s.(nav.Saver)
	return ok && w.Saving()
}

// all hands a message to every screen: an answer from the store may belong to
// one that is covered now.
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

// onlyFailure lets a closed screen say that its write failed, and nothing else.
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

// settle takes settings that were stored, for every screen on the stack.
func (a *App) settle(set exam.Settings) {
	t := a.deps.Theme.As(theme.Name(set.Theme))
	judge := a.deps.Judge.Reads(set.Units)
	a.deps.Settings, a.deps.Theme, a.deps.Judge = set, t, judge
	for _, f := range a.stack {
		f.deps.Settings, f.deps.Theme, f.deps.Judge = set, t, judge
	}
}

// push makes a screen out of what the address brings along, or else the deps.
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

// back closes the top screen; the first one stays, because esc never leaves.
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
