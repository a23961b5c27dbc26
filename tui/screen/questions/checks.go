package questions

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/exam/procedure/script"
	"loosebox/tui/entry"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// checks is a check list: each point with what the record shows to check it by. No
// answer stands there before it is given. Each point has its own letter, so that no
// key pressed over and over goes through the list, and enter answers none: it saves
// the list once every point is answered.
type checks struct {
	s      *Screen
	points []order.AnsweredPoint
	given  []exam.Checked
	at     int // len(points): the line that saves
	asked  order.Answer
	words  *entry.Text // of the answer that is asked; nil for none
	done   func([]exam.Checked) script.Move
}

func newChecks(s *Screen, list *script.Checks) *checks {
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

// Lines draws the list, the point under the cursor with its answers.
func (c *checks) Lines(size layout.Size) []string {
	var lines []string
	from, to := 0, 0
	for i := range c.points {
		if i != c.at {
			lines = append(lines, layout.Cut(c.row(i), size.W))
			continue
		}
		from = len(lines)
		lines = append(lines, c.here(size.W)...)
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

// row is a point that is not under the cursor, in one line.
func (c *checks) row(i int) string {
	t, sign := c.s.Deps.Theme, c.s.Deps.Theme.Sign.Left
	switch g := c.given[i]; {
	case !c.answered(i):
	case g.OK:
		sign = t.Sign.Done
	default:
		sign = t.Sign.NotDone
	}
	text := "  " + sign + " " + letters(c.points[i]) + c.points[i].Asks
	if c.given[i].Words != "" {
		text += ": " + c.given[i].Words
	}
	return text
}

// lettersWide is the column of the letters of a point, which has three at most.
const lettersWide = 6

// letters are those of the answers of a point, without the one that all have.
func letters(p order.AnsweredPoint) string {
	var list []string
	for _, a := range p.Answers {
		if a.Press != order.NotInOrder {
			list = append(list, a.Press)
		}
	}
	return layout.Pad(strings.Join(list, "/"), lettersWide)
}

// here is the point under the cursor: what it asks, what the record shows, and
// the letter of each answer.
func (c *checks) here(width int) []string {
	t, p := c.s.Deps.Theme, c.points[c.at]
	var lines []string
	for n, l := range layout.Wrap(p.Asks, width-4) {
		lead := t.Sign.Cursor + " "
		if n > 0 {
			lead = "  "
		}
		lines = append(lines, t.Cursor.Render(lead+l))
	}
	for _, l := range layout.Wrap(notation.CleanLine(p.Shown, 0), width-6) {
		lines = append(lines, "      "+t.Strong.Render(l))
	}
	if c.words != nil {
		lines = append(lines, "      "+c.asked.Ask)
		for _, l := range c.words.View(layout.Size{W: width - 6, H: 2}) {
			lines = append(lines, "      "+l)
		}
		return lines
	}
	answers := make([]string, len(p.Answers))
	for i, a := range p.Answers {
		answers[i] = fmt.Sprintf("[ %s ] %s", a.Press, a.Words)
	}
	for _, l := range pack(answers, width-6) {
		lines = append(lines, "      "+t.Strong.Render(l))
	}
	if g := c.given[c.at]; c.answered(c.at) {
		text := "answered: in order"
		if !g.OK {
			text = "answered: not in order"
		}
		if g.Words != "" {
			text = "answered: " + g.Words
		}
		lines = append(lines, layout.Cut("      "+text, width))
	}
	return lines
}

// pack sets pieces side by side, as many as a line holds whole.
func pack(pieces []string, width int) []string {
	var out []string
	for _, p := range pieces {
		if n := len(out); n > 0 && len([]rune(out[n-1]))+3+len([]rune(p)) <= width {
			out[n-1] += "   " + p
			continue
		}
		out = append(out, p)
	}
	return out
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

func (c *checks) end(width int) []string {
	t := c.s.Deps.Theme
	text := "[enter: every point is answered; save the list]"
	if n := c.wrong(); n > 0 {
		text = fmt.Sprintf("[enter: save the list, %d not in order]", n)
	}
	lines := []string{t.Cursor.Render(t.Sign.Cursor+" ") + t.Strong.Render(text)}
	if c.wrong() > 0 {
		for _, l := range layout.Wrap("Tell the veterinarian what is not in order. esc waits; nothing is saved yet.", width-2) {
			lines = append(lines, "  "+t.Caution.Render(l))
		}
	}
	return lines
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
		c.give(exam.Checked{Key: c.points[c.at].Key, OK: c.asked.OK, Words: c.words.Content()})
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
