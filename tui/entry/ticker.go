package entry

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// ticker sends one tick a second while it is on. Ticks are not used to measure: times are differences from a start.
type ticker struct {
	later func(time.Duration, tea.Msg) tea.Cmd
	on    bool
	run   int
}

// tickMsg belongs to one run of one ticker.
type tickMsg struct {
	of  *ticker
	run int
}

func (t *ticker) start() tea.Cmd {
	t.on = true
	t.run++
	return t.ask(time.Second)
}

func (t *ticker) stop() { t.on = false }

func (t *ticker) ask(after time.Duration) tea.Cmd {
	return t.later(after, tickMsg{of: t, run: t.run})
}

// next says whether a message is this run's tick, and asks for the one after it.
func (t *ticker) next(msg tea.Msg) (tea.Cmd, bool) {
	m, ok := msg.(tickMsg)
	if !ok || m.of != t || m.run != t.run || !t.on {
		return nil, false
	}
	return t.ask(time.Second), true
}
