package flow

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
	"loosebox/tui/needle"
)

// Checks is a check list: each point with what the record shows to check it by,
// answered one after the other; a point that is not in order has its words.
type Checks struct {
	s      *Screen
	points []needle.Point
	given  []exam.Checked
	at     int // len(points): all are answered
	choice int // among the answers of the point; -1 for none
	words  *entry.Text
	done   func([]exam.Checked) tea.Cmd
	back   func() Part
}

// NewChecks makes the list. Back is the part before it, for esc.
func NewChecks(s *Screen, points []needle.Point, done func([]exam.Checked) tea.Cmd, back func() Part) *Checks {
	c := &Checks{s: s, points: points, given: make([]exam.Checked, len(points)), done: done, back: back}
	c.goTo(0)
	return c
}

func (c *Checks) goTo(i int) {
	c.at, c.words = i, nil
	if i < len(c.points) {
		c.choice = c.points[i].First
	}
}

// Lines draws the list, the point under the cursor with its answers.
func (c *Checks) Lines(size layout.Size) []string {
	t := c.s.Deps.Theme
	var lines []string
	from, to := 0, 0
	for i, p := range c.points {
		if i == c.at {
			from = len(lines)
		}
		sign := t.Sign.Left
		switch {
		case c.given[i].Key == "":
		case c.given[i].OK:
			sign = t.Sign.Done
		default:
			sign = t.Sign.NotDone
		}
		text := sign + " " + p.Asks
		if i != c.at {
			if c.given[i].Words != "" {
				text += ": " + c.given[i].Words
			}
			lines = append(lines, layout.Cut("  "+text, size.W))
			continue
		}
		for n, l := range layout.Wrap(text, size.W-4) {
			lead := t.Sign.Cursor + " "
			if n > 0 {
				lead = "    "
			}
			lines = append(lines, t.Cursor.Render(lead+l))
		}
		for _, l := range layout.Wrap(exam.CleanLine(p.Shown, 0), size.W-6) {
			lines = append(lines, "      "+t.Strong.Render(l))
		}
		lines = append(lines, c.answers(p, size.W)...)
		to = len(lines)
	}
	if c.at == len(c.points) {
		from = len(lines)
		lines = append(lines, c.end(size.W)...)
		to = len(lines)
	}
	first := layout.Window(0, to-1, len(lines), size.H)
	first = layout.Window(first, from, len(lines), size.H)
	return lines[first:min(first+max(size.H, 0), len(lines))]
}

func (c *Checks) answers(p needle.Point, width int) []string {
	if c.words != nil {
		view := c.words.View(layout.Size{W: width - 6, H: 2})
		for i := range view {
			view[i] = "      " + view[i]
		}
		return view
	}
	line := "     "
	for i, a := range p.Answers {
		word := fmt.Sprintf(" %d %s", i+1, a.Words)
		if i == c.choice {
			word = fmt.Sprintf(" %d [%s]", i+1, a.Words)
		}
		line += word + " "
	}
	return layout.Wrap(line, width)
}

// wrong counts the points that are not in order.
func (c *Checks) wrong() int {
	n := 0
	for _, g := range c.given {
		if !g.OK {
			n++
		}
	}
	return n
}

func (c *Checks) end(width int) []string {
	t := c.s.Deps.Theme
	text := "[all in order: go on]"
	if n := c.wrong(); n > 0 {
		text = fmt.Sprintf("[go on; %d not in order, with your words]", n)
	}
	lines := []string{t.Cursor.Render(t.Sign.Cursor+" ") + t.Strong.Render(text)}
	if c.wrong() > 0 {
		for _, l := range layout.Wrap("What is not in order is for the veterinarian: esc waits, nothing is written down yet.", width-2) {
			lines = append(lines, "  "+t.Caution.Render(l))
		}
	}
	return lines
}

// Press answers the point under the cursor.
func (c *Checks) Press(p keys.Press) tea.Cmd {
	if c.words != nil {
		return c.pressWords(p)
	}
	switch {
	case keys.Up().Is(p), keys.Earlier().Is(p):
		c.goTo(max(c.at-1, 0))
	case keys.Down().Is(p), keys.Later().Is(p):
		if c.at < len(c.points) && c.given[c.at].Key == "" {
			c.s.Say("Answer this point first; the list is gone through in its order.")
			return nil
		}
		c.goTo(min(c.at+1, len(c.points)))
	case c.at == len(c.points):
		if keys.Accept().Is(p) {
			return c.done(c.given)
		}
	case keys.Left().Is(p):
		c.choice = max(c.choice-1, 0)
	case keys.Right().Is(p):
		c.choice = min(c.choice+1, len(c.points[c.at].Answers)-1)
	case keys.Digit().Is(p):
		if i := digit(p); i < len(c.points[c.at].Answers) {
			c.choice = i
		}
	case keys.Accept().Is(p):
		return c.accept()
	}
	return nil
}

func (c *Checks) accept() tea.Cmd {
	point := c.points[c.at]
	if c.choice < 0 {
		c.s.Say("Say how: choose an answer by its number.")
		return nil
	}
	a := point.Answers[c.choice]
	if a.Ask {
		c.words = entry.NewText("in words", c.given[c.at].Words, 0, needWords, c.s.Options())
		return nil
	}
	c.given[c.at] = exam.Checked{Key: point.Key, OK: a.OK, Words: a.Stored}
	c.goTo(c.at + 1)
	return nil
}

func needWords(text string) error {
	if text == "" {
		return &exam.Refusal{Why: "say in a few words what is not in order"}
	}
	return nil
}

func (c *Checks) pressWords(p keys.Press) tea.Cmd {
	if r, _ := c.words.Press(p); r == entry.Accepted {
		c.given[c.at] = exam.Checked{Key: c.points[c.at].Key, Words: c.words.Content()}
		c.goTo(c.at + 1)
	}
	return nil
}

// Keys are those of a list.
func (c *Checks) Keys() []keys.Binding {
	switch {
	case c.words != nil:
		return []keys.Binding{keys.Accept().With("take", "take the words")}
	case c.at == len(c.points):
		return []keys.Binding{keys.Accept().With("go on", "write the order and the list down"), keys.Up()}
	}
	return []keys.Binding{keys.Accept().With("answer", "answer the point with what is in brackets"), keys.Digit().With("choose", "choose an answer"), keys.Left().With("", ""), keys.Up()}
}

// Typing says that words are typed.
func (c *Checks) Typing() bool { return c.words != nil }

// Escape goes back to the order; its answers stay.
func (c *Checks) Escape() bool {
	if c.words != nil {
		c.words = nil
		return true
	}
	if c.back == nil {
		return false
	}
	c.s.Show(c.back())
	return true
}
