package sheet

import (
	"strings"

	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/screen/list"
	"loosebox/tui/theme"
)

// pick is a question with answers to choose from, found by typing, or with a text to type.
type pick struct {
	asks    string
	options []intake.Option
	find    list.Find
	cursor  list.List
	free    bool // any text
	take    func(value string)
}

func newPick(asks string, options []intake.Option, take func(string)) *pick {
	return &pick{asks: asks, options: options, take: take}
}

func newText(asks string, take func(string)) *pick { return &pick{asks: asks, free: true, take: take} }

// found are the answers that hold what was typed.
func (p *pick) found() []intake.Option {
	var out []intake.Option
	for _, o := range p.options {
		if list.HoldsAll(strings.ToLower(o.Words+" "+o.Value), p.find.Words()) {
			out = append(out, o)
		}
	}
	return out
}

// press takes a key; true where the question is answered.
func (p *pick) press(k keys.Press) bool {
	found := p.found()
	switch {
	case keys.Accept().Is(k) && p.free:
		if text := notation.CleanLine(p.find.Text, 0); text != "" {
			p.take(text)
			return true
		}
	case keys.Accept().Is(k) && len(found) > 0:
		p.cursor.Keep(len(found))
		p.take(found[p.cursor.Cursor].Value)
		return true
	case !p.free && p.cursor.Move(k, len(found)):
	case p.find.Press(k):
		p.cursor = list.List{}
	}
	return false
}

func (p *pick) draw(t *theme.Theme, size layout.Size) []string {
	var lines []string
	for _, line := range layout.Wrap(p.asks, size.W) {
		lines = append(lines, t.Strong.Render(line))
	}
	lines = lines[:min(len(lines), max(size.H-6, 1))]
	lines = append(lines, "", layout.Cut("> "+p.find.Text+"_", size.W), "")
	if p.free {
		return lines
	}
	found := p.found()
	if len(found) == 0 {
		return append(lines, t.Faint.Render(layout.Cut("  nothing has that in its name", size.W)))
	}
	return append(lines, p.cursor.Draw(len(found), size.H-len(lines), func(i int, here bool) string {
		text := found[i].Words
		if found[i].Value != "" && found[i].Value != found[i].Words {
			text = layout.Ends(text, found[i].Value, size.W-3)
		}
		if here {
			return t.Cursor.Render(layout.Pad(t.Sign.Cursor+" "+layout.Cut(text, size.W-2), size.W))
		}
		return layout.Cut("  "+text, size.W)
	})...)
}
