package flow

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/nav"
)

// NewOther leads to a needle that is written down as in and not as out: it is
// answered for before another one goes in.
func NewOther(s *Screen, name nav.Name, number int) Part {
	to := nav.Address{Screen: name, Visit: s.ID, Number: number}
	text := fmt.Sprintf("The needle of %s %d is written down as in, and not as out.", name, number)
	return &Pick{
		S: s, Head: func(width int) []string { return append([]string{""}, s.Asks(width, text)...) },
		Options: []Option{{Words: "say what happened to it", Do: func() tea.Cmd { return nav.Replace(to) }}},
	}
}
