package questions

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/notation"
	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// pick is a question with a few answers. Where the cursor begins at -1 none stands
// under it, so that enter alone answers nothing. While a needle is in every answer
// has its letter: one key, and never one that the screen before took too.
type pick struct {
	silent
	s      *Screen
	q      *script.Question
	cursor int
}

func newPick(s *Screen, q *script.Question) *pick {
	k := &pick{s: s, q: q, cursor: -1}
	if q.Listed {
		k.cursor = 0
	}
	return k
}

// key is how the answer at a place is chosen.
func (k *pick) key(i int) string {
	if letter := k.q.Options[i].Key; letter != "" {
		return letter
	}
	return fmt.Sprint(i + 1)
}

// hints says under which answers their hint is drawn.
type hints int

const (
	allHints hints = iota
	hintHere       // of the answer under the cursor alone
	noHints
)

// Lines draws the head, the answers, and what follows each: all of it where the
// window holds it, else that of the one under the cursor, else none, so that the
// head is whole.
func (k *pick) Lines(size layout.Size) []string {
	head := k.s.texts(k.q.Head, size.W)
	if len(k.q.Options) == 0 {
		return head
	}
	tail := k.answers(size.W, allHints)
	for h := hintHere; h <= noHints && len(head)+1+len(tail) > size.H; h++ {
		tail = k.answers(size.W, h)
	}
	if room := max(size.H-len(tail)-1, 1); len(head) > room {
		head = k.fitting(layout.Size{W: size.W, H: room})
	}
	return append(append(head, ""), tail...)
}

// fitting are the texts of the head that a room holds whole: half a sentence could say the opposite. The first is always
// there.
func (k *pick) fitting(room layout.Size) []string {
	var head []string
	for i, t := range k.q.Head {
		lines := k.s.text(t, room.W)
		if i > 0 && len(head)+len(lines) > room.H-1 {
			more := "more does not fit: make the window taller"
			return append(head, k.s.Deps.Theme.Faint.Render(layout.Cut(more, room.W)))
		}
		head = append(head, lines...)
	}
	return head[:min(len(head), room.H)]
}

// answers draws the answers; with all hints what follows is drawn under each that
// has a letter, as no cursor comes to it.
func (k *pick) answers(width int, show hints) []string {
	t := k.s.Deps.Theme
	var out []string
	for i, o := range k.q.Options {
		lead, under := fmt.Sprintf("%d ", i+1), "    "
		if o.Key != "" {
			lead, under = "["+o.Key+"] ", "      "
		}
		for n, l := range layout.Wrap(notation.CleanLine(o.Words, 0), width-2-len(lead)) {
			if n > 0 {
				lead = strings.Repeat(" ", len(lead))
			}
			switch {
			case i != k.cursor:
				out = append(out, "  "+lead+l)
			case n > 0:
				out = append(out, t.Cursor.Render(layout.Pad("  "+lead+l, width)))
			default:
				out = append(out, t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+lead+l, width)))
			}
		}
		if show == noHints || i != k.cursor && (o.Key == "" || show != allHints) {
			continue
		}
		for _, hint := range layout.Wrap(notation.CleanLine(o.Hint, 0), width-len(under)) {
			out = append(out, under+t.Faint.Render(hint))
		}
	}
	return out
}

// Press gives an answer by its letter, or moves among them and gives the one under
// the cursor.
func (k *pick) Press(p keys.Press) tea.Cmd {
	if cmd, did := k.s.more(p); did {
		return cmd
	}
	for _, o := range k.q.Options {
		if o.Key != "" && binding(o).Is(p) {
			return k.s.do(o.Do())
		}
	}
	last := len(k.q.Options) - 1
	switch {
	case keys.Accept().Is(p) && k.q.Enter != nil:
		return k.s.do(k.q.Enter.Do())
	case last < 0:
	case keys.Up().Is(p):
		k.cursor = max(k.cursor-1, 0)
	case keys.Down().Is(p):
		k.cursor = min(k.cursor+1, last)
	case keys.Digit().Is(p):
		if i := digit(p); i <= last && k.q.Options[i].Key == "" {
			k.cursor = i
		}
	case keys.Accept().Is(p) && k.cursor < 0:
		k.s.say(fmt.Sprintf("Press one of: %s.", strings.Join(k.all(), ", ")))
	case keys.Accept().Is(p):
		return k.s.do(k.q.Options[k.cursor].Do())
	}
	return nil
}

// all are the keys of the answers.
func (k *pick) all() []string {
	out := make([]string, len(k.q.Options))
	for i := range k.q.Options {
		out[i] = k.key(i)
	}
	return out
}

// digit is the place of a line that a digit chooses, from 0; 0 is the tenth.
func digit(p keys.Press) int { return (int(keys.Name(p)[0]-'0') + 9) % 10 }

// Keys are the letters of the answers, or those of a list.
func (k *pick) Keys() []keys.Binding {
	var out []keys.Binding
	if e := k.q.Enter; e != nil && e.Words != "" {
		out = append(out, keys.Accept().Own(e.Words, e.Hint))
	}
	if len(k.q.Options) == 0 {
		return append(out, bindings(k.q.More)...)
	}
	numbered := false
	for _, o := range k.q.Options {
		if numbered = numbered || o.Key == ""; o.Key != "" {
			out = append(out, keys.Letter(o.Key, "", o.Words))
		}
	}
	moves := len(k.q.Options) > 1 || k.cursor < 0 // else there is nothing to choose from
	switch {
	case numbered && moves:
		out = append(out, keys.Digit())
	case !numbered:
		letters := keys.Letter(strings.Join(k.all(), " "), "answer", "the letter of an answer gives it at once")
		out = append([]keys.Binding{letters}, out...)
	}
	if moves {
		out = append(out, keys.Up())
	}
	if k.cursor >= 0 || numbered {
		out = append(out, keys.Accept().With("choose", "take the answer under the cursor"))
	}
	return append(out, bindings(k.q.More)...)
}
