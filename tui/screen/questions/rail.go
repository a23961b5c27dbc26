package questions

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam/procedure/script"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
)

// rail is a list of titles at the left, with what belongs to the one under the
// cursor at the right. The number of an answer gives it at once; arrows only move.
type rail struct {
	silent
	s    *Screen
	rail *script.Rail
	list list.List
}

// railWide holds the longest title with its number.
const railWide = 29

// Lines puts the list at the left and the page under the cursor at the right.
func (r *rail) Lines(size layout.Size) []string {
	t, body := r.s.Deps.Theme, size.W-railWide-3
	left := r.list.Draw(len(r.rail.Pages), size.H, func(i int, here bool) string {
		text := layout.Pad(fmt.Sprintf("%d %s", i+1, r.rail.Pages[i].Title), railWide-2)
		if here {
			return t.Cursor.Render(t.Sign.Cursor + " " + text)
		}
		return "  " + text
	})
	right := r.s.texts(r.rail.Pages[r.list.Cursor].Body, body)
	return layout.Beside(layout.Fit(left, layout.Size{W: railWide, H: size.H}), layout.Fit(right, layout.Size{W: body, H: size.H}), " "+t.Faint.Render(t.Sign.Bar)+" ")
}

// answers is how many of the pages are answers; they come first.
func (r *rail) answers() int {
	n := 0
	for _, p := range r.rail.Pages {
		if p.Do != nil {
			n++
		}
	}
	return n
}

// Press chooses the page with the number at once; enter alone is no answer.
func (r *rail) Press(p keys.Press) tea.Cmd {
	switch {
	case r.list.Move(p, len(r.rail.Pages)):
	case keys.Digit().Is(p):
		i := digit(p)
		if i >= len(r.rail.Pages) {
			return nil
		}
		if r.list.Cursor = i; r.rail.Pages[i].Do != nil {
			return r.s.do(r.rail.Pages[i].Do())
		}
	case keys.Accept().Is(p):
		r.s.say(r.rail.Enter)
	}
	return nil
}

// Keys are the numbers of the answers, and of the pages that are none.
func (r *rail) Keys() []keys.Binding {
	n, all := r.answers(), len(r.rail.Pages)
	signs, rest := keys.Digit().Own(r.rail.Answer.Words, r.rail.Answer.Hint), keys.Digit().Own(r.rail.Read.Words, r.rail.Read.Hint)
	signs.Keys, signs.Label = signs.Keys[:n], fmt.Sprintf("1-%d", n)
	rest.Keys, rest.Label = rest.Keys[n:all], fmt.Sprintf("%d-%d", n+1, all)
	return []keys.Binding{signs, rest, keys.Up()}
}
