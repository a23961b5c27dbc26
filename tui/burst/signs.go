package burst

import (
	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/keys"
)

// Separator replaces the separator of GS1 codes (FNC1) in the text of a burst, whichever key the reader sends for it.
const Separator = '\x1d'

// character is the one character that a press types; false where it types none or several.
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

// ending reports whether a press is one that readers send at the end: CR, TAB, LF or ETX.
func ending(p keys.Press) bool {
	switch p.Type {
	case tea.KeyEnter, tea.KeyTab, tea.KeyCtrlJ, tea.KeyCtrlC:
		return true
	default:
		return false
	}
}

// separates reports whether a press is one of the keys that readers send for FNC1.
func separates(p keys.Press) bool {
	switch p.Type {
	case tea.KeyCtrlCloseBracket, tea.KeyF8, tea.KeyF12:
		return true
	default:
		return false
	}
}
