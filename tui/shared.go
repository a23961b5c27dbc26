package tui

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/nav"
)

// shared passes on the result of an exchange with other laptops to the home screen and the screen on top. A problem is
// shown once.
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
