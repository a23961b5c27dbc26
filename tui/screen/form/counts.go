package form

import (
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// Counts is a row for the number of each of a few things, such as blood tubes.
type Counts struct {
	label   string
	choices []exam.Choice
	counts  []int
	most    int
	cursor  int
	check   func(string) error
	hint    func(string) string
	said    error
}

// NewCounts makes a row of counts from 0 to most. State is the text of State from before. Check returns a sentence as an
// error, hint a text to show below, both for the present State; both may be nil.
func NewCounts(label string, choices []exam.Choice, state string, most int, check func(string) error, hint func(string) string) *Counts {
	r := &Counts{label: label, choices: choices, counts: make([]int, len(choices)), most: most, check: check, hint: hint}
	for _, part := range strings.Split(state, ",") {
		part = strings.TrimSpace(part)
		n := 1
		if head, rest, ok := strings.Cut(part, " "); ok {
			if k, err := strconv.Atoi(head); err == nil {
				n, part = k, rest
			}
		}
		for i, c := range choices {
			if c.Key == part {
				r.counts[i] = min(max(n, 0), most)
			}
		}
	}
	return r
}

// State is the counts as text, "serum, 2 EDTA", without those that are 0.
func (r *Counts) State() string {
	var parts []string
	for i, c := range r.choices {
		switch n := r.counts[i]; {
		case n == 1:
			parts = append(parts, c.Key)
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %s", n, c.Key))
		}
	}
	return strings.Join(parts, ", ")
}

// Press handles space (one more), backspace (one less), digits, left and right.
func (r *Counts) Press(p keys.Press) entry.KeyResult {
	last := len(r.choices) - 1
	switch {
	case keys.Accept().Is(p):
		if r.said = r.Err(); r.said != nil {
			return entry.Taken
		}
		return entry.Accepted
	case keys.Left().Is(p):
		r.cursor = max(r.cursor-1, 0)
	case keys.Right().Is(p):
		r.cursor = min(r.cursor+1, last)
	case keys.Digit().Is(p):
		if i := (int(keys.Name(p)[0]-'0') + 9) % 10; i <= last {
			r.cursor = i
		}
	case keys.Mark().Is(p):
		r.counts[r.cursor] = min(r.counts[r.cursor]+1, r.most)
	case keys.TakeBack().Is(p):
		r.counts[r.cursor] = max(r.counts[r.cursor]-1, 0)
	default:
		return entry.Ignored
	}
	r.said = nil
	return entry.Taken
}

// Lines draws every choice with its count, and below them the hint or what is wrong.
func (r *Counts) Lines(t *theme.Theme, width int, active bool) []string {
	if !active {
		return []string{layout.Cut(layout.PadLeft(r.label, labelWide)+": "+r.State(), width)}
	}
	parts := make([]string, len(r.choices))
	for i, c := range r.choices {
		count := fmt.Sprintf("[%d] ", r.counts[i])
		if parts[i] = "  " + count + c.Words; i == r.cursor {
			parts[i] = t.Cursor.Render(t.Sign.Cursor + " " + count + c.Words)
		}
	}
	lines := flow(r.label, parts, width)
	indent := strings.Repeat(" ", labelWide+2)
	if r.said != nil {
		for _, text := range layout.Wrap(r.said.Error(), width-labelWide-2) {
			lines = append(lines, indent+t.Error.Render(text))
		}
		return lines
	}
	if r.hint != nil {
		for _, text := range layout.Wrap(notation.CleanLine(r.hint(r.State()), 0), width-labelWide-2) {
			lines = append(lines, indent+t.Faint.Render(text))
		}
	}
	return lines
}

// Err is the error of the check.
func (r *Counts) Err() error {
	if r.check == nil {
		return nil
	}
	return r.check(r.State())
}

// Keys are space, backspace, left, right and digits.
func (r *Counts) Keys() []keys.Binding {
	none := ""
	if r.counts[r.cursor] == 0 {
		none = "there is none of this line"
	}
	return []keys.Binding{
		keys.Mark().With("one more", "one more of this line"), keys.TakeBack().With("one less", "one less of it").OffIf(none),
		keys.Left().With("move", "go to another"), keys.Digit().With("", "choose a line by its number"),
	}
}

// Typing is never true.
func (r *Counts) Typing() bool { return false }
