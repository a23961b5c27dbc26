package form

import (
	"strings"

	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Said is a check box with words beside it: space marks it while there are no words, and typing marks it too.
type Said struct {
	*Text
	set bool
}

// NewSaid makes a check box with a label, its words and whether it is set; does is the hint that says what mark and words
// mean.
func NewSaid(label, text string, set bool, does string, o entry.Options) *Said {
	r := &Said{Text: NewText(label, text, 0, nil, o), set: set}
	r.Hint(func(string) string { return r.box() + " " + does })
	return r
}

func (r *Said) box() string {
	if r.set {
		return "[x]"
	}
	return "[ ]"
}

// Set reports whether it is marked.
func (r *Said) Set() bool { return r.set }

// Press marks with space, and types.
func (r *Said) Press(p keys.Press) entry.KeyResult {
	if keys.Mark().Is(p) && r.Content() == "" {
		r.set = !r.set
		return entry.Taken
	}
	result := r.Text.Press(p)
	r.set = r.set || r.Content() != ""
	return result
}

// Lines draws the mark with its words, and how to mark it where it is active.
func (r *Said) Lines(t *theme.Theme, width int, active bool) []string {
	if active {
		return r.Text.Lines(t, width, true)
	}
	text := strings.TrimSpace(r.box() + " " + r.Content())
	return []string{layout.Cut(layout.PadLeft(r.label, labelWide)+": "+text, width)}
}

// State is the mark and the words.
func (r *Said) State() string { return r.box() + r.Content() }

// Keys are space; the form adds its own.
func (r *Said) Keys() []keys.Binding { return []keys.Binding{keys.Mark()} }
