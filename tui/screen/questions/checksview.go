package questions

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/procedure/order"
	"loosebox/tui/layout"
)

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
		text += ": " + c.given[i].Words.String()
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
			text = "answered: " + g.Words.String()
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
