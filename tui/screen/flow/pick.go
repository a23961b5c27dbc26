package flow

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// Option is one answer of a Pick.
type Option struct {
	Words, Hint string
	Do          func() tea.Cmd
}

// Pick is a question with a few answers. Where Cursor begins at -1 none stands
// under the cursor, so that enter alone answers nothing.
type Pick struct {
	S       *Screen
	Head    func(width int) []string
	Options []Option
	Cursor  int
	More    []Extra
	// Leaving is asked once before esc leaves; empty for not at all.
	Leaving string
	asked   bool
}

// Lines draws the head, the answers and the hint of the one under the cursor.
func (k *Pick) Lines(size layout.Size) []string {
	t := k.S.Deps.Theme
	var tail []string
	for i, o := range k.Options {
		line := fmt.Sprintf("%d %s", i+1, exam.CleanLine(o.Words, 0))
		if i != k.Cursor {
			tail = append(tail, layout.Cut("  "+line, size.W))
			continue
		}
		tail = append(tail, t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+line, size.W)))
		for _, hint := range layout.Wrap(exam.CleanLine(o.Hint, 0), size.W-4) {
			tail = append(tail, "    "+t.Faint.Render(hint))
		}
	}
	head := k.Head(size.W)
	if room := max(size.H-len(tail)-1, 1); len(head) > room {
		head = head[:room]
	}
	return append(append(head, ""), tail...)
}

// Press moves among the answers and takes the one under the cursor.
func (k *Pick) Press(p keys.Press) tea.Cmd {
	k.asked = false
	if cmd, did := pressExtra(k.More, p); did {
		return cmd
	}
	last := len(k.Options) - 1
	switch {
	case keys.Up().Is(p):
		k.Cursor = max(k.Cursor-1, 0)
	case keys.Down().Is(p):
		k.Cursor = min(k.Cursor+1, last)
	case keys.Digit().Is(p):
		if i := digit(p); i <= last {
			k.Cursor = i
		}
	case keys.Accept().Is(p):
		if k.Cursor < 0 {
			k.S.Say("Choose an answer first: its number, or up and down.")
			return nil
		}
		return k.Options[k.Cursor].Do()
	}
	return nil
}

// digit is the place of a line that a digit chooses, from 0; 0 is the tenth.
func digit(p keys.Press) int { return (int(keys.Name(p)[0]-'0') + 9) % 10 }

// Keys are those of a list.
func (k *Pick) Keys() []keys.Binding {
	return append([]keys.Binding{keys.Digit(), keys.Up(), keys.Accept()}, bindings(k.More)...)
}

// Typing is never true.
func (k *Pick) Typing() bool { return false }

// Escape asks once where leaving leaves something open.
func (k *Pick) Escape() bool {
	if k.Leaving == "" || k.asked {
		return false
	}
	k.asked = true
	k.S.Say(k.Leaving)
	return true
}
