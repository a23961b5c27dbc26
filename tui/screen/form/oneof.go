package form

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/theme"
)

// OneOf is a row for one of a few choices, which are all visible while the row is active.
type OneOf struct {
	label   string
	choices []exam.Choice
	sizes   bool
	propose func() string // the key until a person chooses; nil once a person has
	field   *entry.OneOf
	typed   string // of a size, as far as it was typed
	refused error  // where the size that was typed is not a choice
	stood   string // the choice before a size was typed; kept where there is no such size
}

// NewOneOf makes a row of choices; chosen is the key that is chosen now. Choices that are sizes, such as "12 mL", are chosen
// by typing the size, other ones by their number.
func NewOneOf(label string, choices []exam.Choice, chosen string, o entry.Options) *OneOf {
	return &OneOf{
		label: label, choices: choices, sizes: exam.Sizes(choices),
		field: entry.NewOneOf(label, choices, chosen, o),
	}
}

// Propose sets a function that gives the chosen key until a person chooses.
func (r *OneOf) Propose(propose func() string) { r.propose = propose }

// Follow updates the choice to the key that is proposed now; call it when other rows have changed.
func (r *OneOf) Follow() {
	if r.propose != nil {
		r.field.Choose(r.propose())
	}
}

// Chosen is the key that is chosen.
func (r *OneOf) Chosen() string { return r.field.Chosen() }

// Press takes digits, and left and right.
func (r *OneOf) Press(p keys.Press) entry.KeyResult {
	if keys.Accept().Is(p) {
		return r.acceptSize()
	}
	r.refused = nil
	before := r.Chosen()
	result := entry.Taken
	if typed := r.sizes && r.typeSize(p); typed {
		r.propose = nil // typing a size is choosing, even if it is the proposed one
		return result
	}
	if result, _ = r.field.Press(sideways(p)); result != entry.Ignored {
		r.typed = ""
	}
	if r.Chosen() != before {
		r.propose = nil
	}
	return result
}

// sideways turns left and right into up and down, which lists understand.
func sideways(p keys.Press) keys.Press {
	switch {
	case keys.Left().Is(p):
		p.KeyMsg = tea.KeyMsg{Type: tea.KeyUp}
	case keys.Right().Is(p):
		p.KeyMsg = tea.KeyMsg{Type: tea.KeyDown}
	}
	return p
}

// Lines draws the choice, or all choices with the chosen one in brackets.
func (r *OneOf) Lines(t *theme.Theme, width int, active bool) []string {
	chosen, parts := exam.Choice{}, make([]string, len(r.choices))
	for i, c := range r.choices {
		words := notation.CleanLine(c.Words, 0)
		if c.Key == r.Chosen() {
			chosen, words = c, t.Strong.Render("["+words+"]")
		}
		if parts[i] = words; !r.sizes {
			parts[i] = numbered(i, words)
		}
	}
	if !active {
		return []string{layout.Cut(layout.PadLeft(r.label, labelWide)+": "+notation.CleanLine(chosen.Words, 0), width)}
	}
	lines := flow(r.label, parts, width)
	hint, style := chosen.Hint, t.Faint
	if err := r.Err(); r.refused != nil {
		hint, style = r.refused.Error(), t.Error
	} else if err != nil {
		hint = "typed: " + r.typed
	}
	for _, text := range layout.Wrap(notation.CleanLine(hint, 0), width-labelWide-2) {
		lines = append(lines, strings.Repeat(" ", labelWide+2)+style.Render(text))
	}
	return lines
}

func numbered(i int, words string) string {
	if i > 9 {
		return words
	}
	return fmt.Sprintf("%d %s", (i+1)%10, words)
}

// flow writes a label and the parts after it on as many lines of width columns as they need.
func flow(label string, parts []string, width int) []string {
	var lines []string
	head := layout.PadLeft(label, labelWide) + ": "
	line := ""
	for _, part := range parts {
		switch {
		case line == "":
			line = part
		case labelWide+2+ansi.StringWidth(line)+2+ansi.StringWidth(part) <= width:
			line += "  " + part
		default:
			lines = append(lines, layout.Cut(head+line, width))
			head, line = strings.Repeat(" ", labelWide+2), part
		}
	}
	return append(lines, layout.Cut(head+line, width))
}

// State is the chosen key.
func (r *OneOf) State() string { return r.Chosen() }

// Keys are left, right and digits.
func (r *OneOf) Keys() []keys.Binding {
	by := "choose by number"
	if r.sizes {
		by = "type the size"
	}
	return []keys.Binding{keys.Left().With("choose", "choose another"), keys.Digit().With("", by)}
}

// Typing is never true.
func (r *OneOf) Typing() bool { return false }
