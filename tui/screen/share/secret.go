package share

import (
	"errors"
	"slices"
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// secret is a line for a passphrase: a star for each character. What is typed is taken
// as it is, spaces too.
type secret struct {
	label, hint string
	text        []rune
	asked       bool // enter was pressed on the empty line
}

// maxSecret is the longest passphrase, in characters.
const maxSecret = 200

func (r *secret) Content() string { return string(r.text) }

func (r *secret) Press(p keys.Press) entry.KeyResult {
	switch {
	case keys.Accept().Is(p):
		if r.asked = len(r.text) == 0; r.asked {
			return entry.Taken
		}
		return entry.Accepted
	case keys.TakeBack().Is(p):
		r.text = r.text[:max(len(r.text)-1, 0)]
		return entry.Taken
	case p.Type == tea.KeyRunes || p.Type == tea.KeySpace:
		for _, c := range p.Runes {
			if !unicode.IsControl(c) { // a line that was pasted ends with enter
				r.text = append(r.text, c)
			}
		}
		r.text = r.text[:min(len(r.text), maxSecret)]
		return entry.Taken
	}
	return entry.Ignored
}

func (r *secret) Lines(t *theme.Theme, width int, active bool) []string {
	lines := []string{layout.Cut(layout.PadLeft(r.label, labelWide)+": "+strings.Repeat("*", len(r.text)), width)}
	if !active {
		return lines
	}
	hint, style := r.hint, t.Faint
	if err := r.Err(); r.asked && err != nil {
		hint, style = err.Error(), t.Error
	}
	for _, l := range layout.Wrap(hint, width-labelWide-2) {
		lines = append(lines, strings.Repeat(" ", labelWide+2)+style.Render(l))
	}
	return lines
}

func (r *secret) Err() error {
	if len(r.text) == 0 {
		return errors.New("the passphrase is needed")
	}
	return nil
}

func (r *secret) State() string        { return string(r.text) }
func (r *secret) Keys() []keys.Binding { return nil }
func (r *secret) Typing() bool         { return true }

// Light of a passphrase is every character.
func (r *secret) Light(p keys.Press) bool { return p.Type == tea.KeyRunes || p.Type == tea.KeySpace }

// Keep keeps what was typed.
func (r *secret) Keep() func() {
	was := slices.Clone(r.text)
	return func() { r.text = was }
}
