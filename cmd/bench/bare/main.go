// Command bare is the smallest full-screen program of Bubble Tea: it counts the keys pressed. cmd/bench measures loosebox
// against it.
package main

import (
	"fmt"
	"os"

	tea "github.com/charmbracelet/bubbletea"
)

type presses int

func (p presses) Init() tea.Cmd { return nil }

func (p presses) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch m := msg.(type) {
	case tea.KeyMsg:
		if m.Type == tea.KeyCtrlC {
			return p, tea.Quit
		}
		return p + 1, nil
	default:
		return p, nil
	}
}

func (p presses) View() string { return fmt.Sprintf("bare\n%d presses\n", p) }

func main() {
	if _, err := tea.NewProgram(presses(0), tea.WithAltScreen()).Run(); err != nil {
		os.Exit(1)
	}
}
