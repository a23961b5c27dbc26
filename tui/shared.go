package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/nav"
)

// shared hands on what an exchange with other laptops brought: the home screen lists it,
// and the screen on top may. A problem is shown once; nothing waits for it.
func (a *App) shared(m nav.SharedMsg) tea.Cmd {
	if m.Problem != "" {
		a.problem = m.Problem
	}
	cmd := a.stack[0].Update(m)
	if len(a.stack) > 1 {
		cmd = tea.Batch(cmd, a.top().Update(m))
	}
	return cmd
}
