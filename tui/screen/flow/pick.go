package flow

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// Option is one answer of a Pick.
type Option struct {
	// Letter gives the answer at once. Without one the answer has a number, which
	// moves the cursor to it, and enter gives it.
	Letter      string
	Words, Hint string
	Do          func() tea.Cmd
}

// Pick is a question with a few answers. Where Cursor begins at -1 none stands
// under the cursor, so that enter alone answers nothing. While a needle is in every
// answer has its letter: one key, and never one that the screen before took too.
type Pick struct {
	S       *Screen
	Head    func(width int) []string
	Options []Option
	Cursor  int
	More    []Extra
	// Leaving is asked once before esc leaves; empty for not at all.
	Leaving string
	// Back is the part that esc shows; nil leaves the screen.
	Back  func() Part
	asked bool
}

// key is how the answer at a place is chosen.
func (k *Pick) key(i int) string {
	if k.Options[i].Letter != "" {
		return k.Options[i].Letter
	}
	return fmt.Sprint(i + 1)
}

// Which of the answers have what follows drawn under them.
type hints int

const (
	allHints hints = iota
	hintHere       // of the answer under the cursor alone
	noHints
)

// Lines draws the head, the answers, and what follows each: all of it where the
// window holds it, else that of the one under the cursor, else none, so that the
// head is whole.
func (k *Pick) Lines(size layout.Size) []string {
	head, tail := k.Head(size.W), k.answers(size.W, allHints)
	for h := hintHere; h <= noHints && len(head)+1+len(tail) > size.H; h++ {
		tail = k.answers(size.W, h)
	}
	if room := max(size.H-len(tail)-1, 1); len(head) > room {
		head = head[:room]
	}
	return append(append(head, ""), tail...)
}

// answers draws the answers; with all hints what follows is drawn under each that
// has a letter, as no cursor comes to it.
func (k *Pick) answers(width int, show hints) []string {
	t := k.S.Deps.Theme
	var out []string
	for i, o := range k.Options {
		lead, under := fmt.Sprintf("%d ", i+1), "    "
		if o.Letter != "" {
			lead, under = "["+o.Letter+"] ", "      "
		}
		for n, l := range layout.Wrap(exam.CleanLine(o.Words, 0), width-2-len(lead)) {
			if n > 0 {
				lead = strings.Repeat(" ", len(lead))
			}
			switch {
			case i != k.Cursor:
				out = append(out, "  "+lead+l)
			case n > 0:
				out = append(out, t.Cursor.Render(layout.Pad("  "+lead+l, width)))
			default:
				out = append(out, t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+lead+l, width)))
			}
		}
		if show == noHints || i != k.Cursor && (o.Letter == "" || show != allHints) {
			continue
		}
		for _, hint := range layout.Wrap(exam.CleanLine(o.Hint, 0), width-len(under)) {
			out = append(out, under+t.Faint.Render(hint))
		}
	}
	return out
}

// Press gives an answer by its letter, or moves among them and gives the one under
// the cursor.
func (k *Pick) Press(p keys.Press) tea.Cmd {
	k.asked = false
	if cmd, did := pressExtra(k.More, p); did {
		return cmd
	}
	for _, o := range k.Options {
		if o.Letter != "" && keys.Letter(o.Letter, "", "").Is(p) {
			return o.Do()
		}
	}
	last := len(k.Options) - 1
	switch {
	case keys.Up().Is(p):
		k.Cursor = max(k.Cursor-1, 0)
	case keys.Down().Is(p):
		k.Cursor = min(k.Cursor+1, last)
	case keys.Digit().Is(p):
		if i := digit(p); i <= last && k.Options[i].Letter == "" {
			k.Cursor = i
		}
	case keys.Accept().Is(p):
		if k.Cursor < 0 {
			k.S.Say(fmt.Sprintf("Enter alone is no answer. Press one of: %s.", strings.Join(k.all(), ", ")))
			return nil
		}
		return k.Options[k.Cursor].Do()
	}
	return nil
}

// all are the keys of the answers.
func (k *Pick) all() []string {
	out := make([]string, len(k.Options))
	for i := range k.Options {
		out[i] = k.key(i)
	}
	return out
}

// digit is the place of a line that a digit chooses, from 0; 0 is the tenth.
func digit(p keys.Press) int { return (int(keys.Name(p)[0]-'0') + 9) % 10 }

// Keys are the letters of the answers, or those of a list.
func (k *Pick) Keys() []keys.Binding {
	var out []keys.Binding
	numbered := false
	for _, o := range k.Options {
		if numbered = numbered || o.Letter == ""; o.Letter != "" {
			out = append(out, keys.Letter(o.Letter, "", o.Words))
		}
	}
	if numbered {
		out = append(out, keys.Digit())
	} else {
		letters := keys.Letter(strings.Join(k.all(), " "), "answer", "the letter of an answer gives it at once")
		out = append([]keys.Binding{letters}, out...)
	}
	out = append(out, keys.Up())
	if k.Cursor >= 0 || numbered {
		out = append(out, keys.Accept())
	}
	return append(out, bindings(k.More)...)
}

// Typing is never true.
func (k *Pick) Typing() bool { return false }

// Escape shows the part before, or asks once where leaving leaves something open.
func (k *Pick) Escape() bool {
	switch {
	case k.Back != nil:
		k.S.Show(k.Back())
		return true
	case k.Leaving == "" || k.asked:
		return false
	}
	k.asked = true
	k.S.Say(k.Leaving)
	return true
}
