package questions

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
)

// checks is a check list: each point with what the record shows about it. No answer is filled in beforehand. Each point has
// letters of its own, so that pressing one key repeatedly does not go through the list. Enter answers no point: it saves the
// list once every point is answered.
type checks struct {
	s      *Screen
	points []order.AnsweredPoint
	given  []exam.Checked
	at     int // len(points): the line that saves
	asked  order.Answer
	words  *entry.Text // of the answer that is asked; nil for none
	done   func([]exam.Checked) script.Move
}

func newChecks(s *Screen, list *script.CheckList) *checks {
	return &checks{s: s, points: list.Points, given: make([]exam.Checked, len(list.Points)), done: list.Done}
}

// answered says that a point has its answer.
func (c *checks) answered(i int) bool { return c.given[i].Key != "" }

// next is the first point without an answer from a place on, and then from the
// beginning; len(points) where there is none.
func (c *checks) next(from int) int {
	for n := range c.points {
		if i := (from + n) % len(c.points); !c.answered(i) {
			return i
		}
	}
	return len(c.points)
}

// wrong counts the points that are for the veterinarian.
func (c *checks) wrong() int {
	n := 0
	for i, g := range c.given {
		if c.answered(i) && order.Wrong(g) {
			n++
		}
	}
	return n
}

// Press answers the point under the cursor by the letter of an answer.
func (c *checks) Press(p keys.Press) tea.Cmd {
	if c.words != nil {
		return c.pressWords(p)
	}
	switch {
	case keys.Up().Is(p), keys.Earlier().Is(p):
		c.at = max(c.at-1, 0)
	case keys.Down().Is(p), keys.Later().Is(p):
		if last := len(c.points) - 1; c.at < last || c.next(0) == len(c.points) {
			c.at = min(c.at+1, len(c.points))
		}
	case c.at == len(c.points):
		if keys.Accept().Is(p) {
			return c.s.do(c.done(c.given))
		}
	default:
		c.answer(p)
	}
	return nil
}

func (c *checks) answer(p keys.Press) {
	point := c.points[c.at]
	var list []string
	for _, a := range point.Answers {
		if keys.Letter(a.Press, "", "").Is(p) {
			c.take(a)
			return
		}
		list = append(list, a.Press)
	}
	if text, typed := keys.Text(p); keys.Accept().Is(p) || typed && !p.Paste && text != "" {
		c.s.say(fmt.Sprintf("That key does nothing here. Press %s or %s.", strings.Join(list[:len(list)-1], ", "), list[len(list)-1]))
	}
}

// take gives an answer, or asks for its words first.
func (c *checks) take(a order.Answer) {
	if a.Ask != "" {
		label := "in words"
		if a.OK {
			label = "name"
		}
		c.asked, c.words = a, entry.NewText(label, "", 0, a.Check, c.s.options())
		return
	}
	c.give(exam.Checked{Key: c.points[c.at].Key, OK: a.OK, Words: a.Stored})
}

// give keeps an answer and goes to the next point without one.
func (c *checks) give(g exam.Checked) {
	c.given[c.at], c.words = g, nil
	c.at = c.next(c.at)
}

func (c *checks) pressWords(p keys.Press) tea.Cmd {
	if r, _ := c.words.Press(p); r == entry.Accepted {
		c.give(exam.Checked{Key: c.points[c.at].Key, OK: c.asked.OK, Words: exam.CheckAnswer(c.words.Content())})
	}
	return nil
}

// Keys are the letters of the point, or the one that saves.
func (c *checks) Keys() []keys.Binding {
	switch {
	case c.words != nil:
		return []keys.Binding{keys.Accept().With("save", "save the words")}
	case c.at == len(c.points):
		return []keys.Binding{keys.Accept().With("save", "save the order and the check list"), keys.Up()}
	}
	var out []keys.Binding
	for _, a := range c.points[c.at].Answers {
		out = append(out, keys.Letter(a.Press, a.Words, ""))
	}
	return append(out, keys.Up())
}

// Typing says that words are typed.
func (c *checks) Typing() bool { return c.words != nil }

// Escape closes the words.
func (c *checks) Escape() bool {
	open := c.words != nil
	c.words = nil
	return open
}
