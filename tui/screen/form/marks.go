package form

import (
	"strings"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Several is a row for any number of a few choices, also none.
type Several struct {
	Hint    string // shown under the row while it is active
	label   string
	choices []exam.Choice
	field   entry.Widget
	cursor  int // stands where the field's own cursor stands
	step    exam.Step
	o       entry.Options
}

// NewMarks makes a row of marks; set are the keys that are marked now. Marking a key in alone clears every other mark.
func NewMarks(label string, choices []exam.Choice, set, alone []string, o entry.Options) *Several {
	o.Before = nil
	if len(set) > 0 {
		o.Before = &exam.Value{Kind: exam.KindMarks, Words: set}
	}
	step := exam.Step{Name: label, Kind: exam.KindMarks, Choices: choices, Alone: alone}
	return &Several{label: label, choices: choices, field: entry.New(step, o), step: step, o: o}
}

// Put marks exactly these keys.
func (r *Several) Put(set ...string) {
	o := r.o
	o.Before = &exam.Value{Kind: exam.KindMarks, Words: set}
	r.field = entry.New(r.step, o)
}

// Set lists the keys that are marked, in the order of the choices.
func (r *Several) Set() []string {
	v, err := r.field.Value()
	if err != nil { // nothing is marked
		return nil
	}
	return v.Words
}

// Press takes space, digits, and left and right.
func (r *Several) Press(p keys.Press) entry.KeyResult {
	last := len(r.choices) - 1
	switch {
	case keys.Accept().Is(p):
		return entry.Accepted
	case keys.Left().Is(p):
		r.cursor = max(r.cursor-1, 0)
	case keys.Right().Is(p):
		r.cursor = min(r.cursor+1, last)
	case keys.Digit().Is(p):
		if i := (int(keys.Name(p)[0]-'0') + 9) % 10; i <= last {
			r.cursor = i
		}
	case !keys.Mark().Is(p):
		return entry.Ignored
	}
	result, _ := r.field.Press(sideways(p))
	return result
}

// Lines draws what is marked, or every choice with its box.
func (r *Several) Lines(t *theme.Theme, width int, active bool) []string {
	set := map[string]bool{}
	for _, key := range r.Set() {
		set[key] = true
	}
	parts, words := make([]string, len(r.choices)), []string{}
	for i, c := range r.choices {
		box := "[ ] "
		if set[c.Key] {
			box = "[x] "
			words = append(words, c.Words)
		}
		if parts[i] = "  " + box + c.Words; i == r.cursor {
			parts[i] = t.Cursor.Render(t.Sign.Cursor + " " + box + c.Words)
		}
	}
	if !active {
		return []string{layout.Cut(layout.PadLeft(r.label, labelWide)+": "+strings.Join(words, ", "), width)}
	}
	lines := flow(r.label, parts, width)
	for _, text := range layout.Wrap(r.Hint, width-labelWide-2) {
		lines = append(lines, strings.Repeat(" ", labelWide+2)+t.Faint.Render(text))
	}
	return lines
}

// Err is nil.
func (r *Several) Err() error { return nil }

// State is the marked keys with commas between them.
func (r *Several) State() string { return strings.Join(r.Set(), ",") }

// Keys are space, left, right and digits.
func (r *Several) Keys() []keys.Binding {
	return []keys.Binding{keys.Mark(), keys.Left().With("move", "move to another mark"), keys.Digit().With("", "choose a mark by its number")}
}

// Typing is never true.
func (r *Several) Typing() bool { return false }
