// Package keys holds every key binding of the program. One Binding says what a key does, and what the line at the bottom,
// the help screen and the printed table say of it.
package keys

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// Binding is one thing that keys do on a screen.
type Binding struct {
	Keys   []string // as bubbletea names them; the first is shown
	Label  string   // how the keys are shown, where not by the first one's name
	Does   string   // at most 16 columns, for the bottom line
	More   string   // a sentence, for help
	Answer bool     // the letter of an answer: what it means differs from question to question
	Off    string   // why it does nothing now; empty where it works
	own    bool     // the words are those of a form or a question: see Own
}

// Press is a key press with the time at which it reached the program. The root sets the time before anything else is done,
// so that counts do not depend on drawing.
type Press struct {
	tea.KeyMsg
	At time.Time
}

// Is reports whether the press is one of the binding's keys and the binding is not off. Pasted text is never a key.
func (b Binding) Is(p Press) bool {
	return b.Off == "" && b.Names(p)
}

// Names reports whether the press is one of the binding's keys, off or not.
func (b Binding) Names(p Press) bool {
	if p.Paste {
		return false
	}
	name := Name(p)
	for _, k := range b.Keys {
		if k == name {
			return true
		}
	}
	return false
}

// Name is the name of a press as bubbletea gives it. Space is " " on every system, although Windows sends it as a character
// and Unix as a key. Several letters read together have the empty name, so that the text "left" is not the arrow key.
func Name(p Press) string {
	if p.Type == tea.KeyRunes && len(p.Runes) > 1 {
		return ""
	}
	return p.String()
}

// Text is the text that a press types: letters, digits, signs, a space, or pasted text; false where it types nothing.
func Text(p Press) (string, bool) {
	switch {
	case p.Alt:
		return "", false
	case p.Type == tea.KeySpace:
		return " ", true
	case p.Type == tea.KeyRunes:
		return string(p.Runes), true
	default:
		return "", false
	}
}

// Shown is how the keys are written for a person.
func (b Binding) Shown() string {
	if b.Label != "" {
		return b.Label
	}
	if len(b.Keys) == 0 {
		return ""
	}
	if b.Keys[0] == " " {
		return "space"
	}
	return b.Keys[0]
}

// With returns the binding with other words for what it does here.
func (b Binding) With(does, more string) Binding {
	b.Does = does
	if more != "" {
		b.More = more
	}
	return b
}

// Own is With for words that a form or a question chooses itself, such as "decide". They need not be in Meanings.
func (b Binding) Own(does, more string) Binding {
	b.own = true
	return b.With(does, more)
}

// OffIf returns the binding switched off for the reason; an empty reason leaves
// it as it is.
func (b Binding) OffIf(reason string) Binding {
	if reason != "" {
		b.Off = reason
	}
	return b
}

// between separates two bindings on the bottom line.
const between = "   "

// Rows divides bindings over the lines at the bottom of the screen, "enter accept   esc back", in as few lines of width
// columns as possible. A binding that is off, or has no words for the bottom line, is left out.
func Rows(bindings []Binding, width int) [][]Binding {
	var rows [][]Binding
	used := 0
	for _, b := range bindings {
		if b.Does == "" || b.Off != "" {
			continue
		}
		wide := len([]rune(b.Shown())) + 1 + len([]rune(b.Does))
		if used > 0 && used+len(between)+wide <= width {
			rows[len(rows)-1] = append(rows[len(rows)-1], b)
			used += len(between) + wide
			continue
		}
		rows, used = append(rows, []Binding{b}), wide
	}
	return rows
}

// Within are as many of the first bindings of a screen as fit in lines of width columns together with all of the frame's.
func Within(screen, frame []Binding, width, lines int) []Binding {
	for n := len(screen); n > 0; n-- {
		if all := slices.Concat(screen[:n], frame); len(Rows(all, width)) <= lines {
			return all
		}
	}
	return frame
}

// Line writes Rows as lines of text; show writes one binding.
func Line(bindings []Binding, width int, show func(Binding) string) []string {
	rows := Rows(bindings, width)
	lines := make([]string, len(rows))
	for i, row := range rows {
		for j, b := range row {
			if j > 0 {
				lines[i] += between
			}
			lines[i] += show(b)
		}
		lines[i] = ansi.Truncate(lines[i], max(width, 0), "")
	}
	return lines
}

// Find is the first of the bindings that has the key of the press, off or not; false for none.
func Find(bindings []Binding, p Press) (Binding, bool) {
	for _, b := range bindings {
		if b.Names(p) {
			return b, true
		}
	}
	return Binding{}, false
}

// Table writes bindings as lines of two columns for help and the printed table.
func Table(bindings []Binding) []string {
	wide := 0
	for _, b := range bindings {
		wide = max(wide, len([]rune(b.Shown())))
	}
	lines := make([]string, 0, len(bindings))
	for _, b := range bindings {
		text := b.More
		if text == "" {
			text = b.Does
		}
		if b.Off != "" {
			text += " (not now: " + b.Off + ")"
		}
		lines = append(lines, b.Shown()+strings.Repeat(" ", wide-len([]rune(b.Shown()))+2)+text)
	}
	return lines
}
