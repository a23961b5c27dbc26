package entry

import (
	"errors"
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

func (n *number) View(size layout.Size) []string {
	t := n.o.Theme
	under := sentence(t, n.said, size.W)
	under = append(under, n.timerLines(size.W)...)
	under = append(under, stands(n.o, n.step, size.W)...)
	line := t.Sign.Cursor + " " + t.Strong.Render(n.line.text) + "_"
	if n.line.text == "" {
		return fit(append([]string{line + " " + t.Faint.Render(n.wanted())}, under...), size)
	}
	text := n.understood()
	if text == "" {
		text = t.Faint.Render("not a number yet")
	}
	var lines []string
	if strings.Trim(n.line.text, numberShapes) == "" && size.H >= digitRows+1+len(under) {
		lines = large(t, n.line.text, "", size.W, digitRows)
	}
	if line += "  " + text; ansi.StringWidth(line) > size.W {
		lines = append(lines, t.Sign.Cursor+" "+t.Strong.Render(n.line.text)+"_", "  "+text)
	} else {
		lines = append(lines, line)
	}
	return fit(append(lines, under...), size)
}

// numberShapes are the characters that there are large shapes of.
const numberShapes = "0123456789.-"

// understood says how the number is read, in every unit of the step.
func (n *number) understood() string {
	q, err := notation.ParseQuantity(n.line.text)
	if err != nil {
		return ""
	}
	if q.Unit == notation.NoUnit {
		read, err := n.read()
		if err == nil || errors.Is(err, exam.ErrUnlikely) {
			q = read
		}
	}
	text := q.Text(2)
	for _, u := range n.step.Units {
		if other, ok := q.In(u); ok && u != q.Unit && q.Unit != notation.NoUnit {
			text += " = " + other.Text(decimalsOf(q, n.step.Decimals))
		}
	}
	return text
}

// wanted stands in the empty field: a number as one is typed, where the screen knows a likely one, or the units.
func (n *number) wanted() string {
	units := n.step.Units
	if len(units) == 0 {
		units = []notation.Unit{n.step.Unit}
	}
	names := make([]string, len(units))
	for i, u := range units {
		names[i] = string(u)
		if q, ok := n.o.Example.In(u); ok {
			names[i] = q.Text(max(n.step.Decimals, 1))
		}
	}
	if n.o.Example.Unit == "" {
		return "a number, in " + strings.Join(names, " or ")
	}
	return "such as " + strings.Join(names, " or ")
}

func (n *number) timerLines(width int) []string {
	switch {
	case n.step.SlowSeconds == 0:
		return nil
	case !n.timer.on:
		return words(n.o.Theme, fmt.Sprintf("t: timer of %d s for a slow thermometer", n.step.SlowSeconds), width)
	}
	text := fmt.Sprintf("timer %d s of %d s", n.seconds, n.step.SlowSeconds)
	if n.rang {
		text = fmt.Sprintf("timer %d s: time is up. Still rising, or no beep? Wait.", n.seconds)
	}
	if n.apart {
		text = strings.TrimSuffix(text, ".") + ". The laptop slept, or its clock was set: look at the thermometer."
	}
	return layout.Wrap(text, width)
}
