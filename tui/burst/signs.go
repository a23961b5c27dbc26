package burst

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/keys"
)

// Separator stands in a burst for the character that divides its parts, FNC1 of
// GS1, however the reader sends it.
const Separator = '\x1d'

// character is what a press types, if it is one character.
func character(p keys.Press) (rune, bool) {
	if p.Paste {
		return 0, false
	}
	text, ok := keys.Text(p)
	if list := []rune(text); ok && len(list) == 1 {
		return list[0], true
	}
	return 0, false
}

// ending says that a press is what readers end a line with: CR, TAB, LF or ETX.
func ending(p keys.Press) bool {
	switch p.Type {
	case tea.KeyEnter, tea.KeyTab, tea.KeyCtrlJ, tea.KeyCtrlC:
		return true
	default:
		return false
	}
}

// separates says that a press is one of the keys that readers send for FNC1.
func separates(p keys.Press) bool {
	switch p.Type {
	case tea.KeyCtrlCloseBracket, tea.KeyF8, tea.KeyF12:
		return true
	default:
		return false
	}
}
