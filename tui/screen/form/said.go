package form

import (
	"strings"

	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Said is a row that is marked or not, with words beside the mark: space marks it
// while it is empty, and what is typed marks it too.
type Said struct {
	*Text
	set bool
}

// NewSaid makes a row that is set or not, with what stands in it; does says what
// the mark and the words mean.
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

// Set says that it is marked.
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

// Keys are space beside the form's.
func (r *Said) Keys() []keys.Binding { return []keys.Binding{keys.Mark()} }
