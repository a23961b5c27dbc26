package entry

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/keys"
	"loosebox/tui/layout"
)

// number is the field of a typed number with its unit.
type number struct {
	step exam.Step
	o    Options
	line typed
	sure string // the text that was accepted although unlikely
	said error

	timer   ticker
	started time.Time
	rang    bool
	seconds int
}

func newNumber(step exam.Step, o Options) *number {
	n := &number{step: step, o: o, timer: ticker{later: o.later}, line: typed{allowed: numberSigns + unitSigns}}
	if b := o.Before; b != nil && b.Number != nil {
		n.line.text, n.line.fresh = strings.ReplaceAll(b.Number.Text(step.Decimals), " ", ""), true
		n.sure = n.line.text
	}
	return n
}

func (n *number) Init() tea.Cmd { return nil }
func (n *number) Typing() bool  { return false }

// Busy says that the timer has not rung yet.
func (n *number) Busy() bool { return n.timer.on && !n.rang }

func (n *number) Keys() []keys.Binding {
	list := []keys.Binding{keys.Accept()}
	if n.line.text != "" {
		list = append(list, keys.TakeBack())
	}
	if n.step.SlowSeconds > 0 {
		list = append(list, keys.Timer())
	}
	if n.meant() != "" {
		list = append([]keys.Binding{keys.TakeMeant()}, list...)
	}
	return list
}

func (n *number) Press(p keys.Press) (Result, tea.Cmd) {
	switch {
	case keys.Accept().Is(p):
		return n.enter(), nil
	case n.meant() != "" && keys.TakeMeant().Is(p):
		n.line.text, n.line.fresh = n.meant(), false
		return n.enter(), nil
	case n.step.SlowSeconds > 0 && keys.Timer().Is(p):
		return Taken, n.startStop(p.At)
	case n.inHands().press(p):
		n.said = n.line.pasteCut()
		return Taken, nil
	}
	return Ignored, nil
}

// inHands is the line, which takes the letters of hands and feet behind a number of a height; on an empty line h shows how.
func (n *number) inHands() *typed {
	if n.step.InHands {
		n.line.allowed = numberSigns + unitSigns
		if n.line.text != "" {
			n.line.allowed += heightSigns
		}
	}
	return &n.line
}

// enter accepts a likely number at once and an unlikely one when asked again.
func (n *number) enter() Result {
	_, err := n.read()
	if errors.Is(err, exam.ErrUnlikely) && n.sure != n.line.text {
		n.sure, n.said = n.line.text, err
		return Taken
	}
	_, n.said = n.Value()
	if n.said != nil {
		return Taken
	}
	n.timer.stop()
	return Accepted
}

// meant is the one number that the refusal on the screen asks about, as it is typed; empty where it asks about none or two.
func (n *number) meant() string {
	var no *notation.Refusal
	if !errors.As(n.said, &no) || strings.Contains(no.Meant, " or ") {
		return ""
	}
	text := strings.ReplaceAll(no.Meant, " ", "")
	if strings.Map(n.line.only, text) != text {
		return ""
	}
	return text
}

func (n *number) read() (notation.Quantity, error) {
	if n.line.text == "" {
		return notation.Quantity{}, &notation.Refusal{Why: "no number was typed yet"}
	}
	return n.step.ReadNumber(n.line.text, n.o.prefer(n.step))
}

func (n *number) Value() (exam.Value, error) {
	q, err := n.read()
	if errors.Is(err, exam.ErrUnlikely) && n.sure == n.line.text {
		err = nil
	}
	if err != nil {
		return exam.Value{}, err
	}
	return exam.Value{Kind: n.step.Kind, Number: &q, Typed: n.line.text}, nil
}

// asTyped is the number before an unlikely one was asked about.
func (n *number) asTyped() (exam.Value, error) {
	q, err := n.read()
	if errors.Is(err, exam.ErrUnlikely) {
		err = nil
	}
	return exam.Value{Kind: n.step.Kind, Number: &q}, err
}

func (n *number) startStop(at time.Time) tea.Cmd {
	if n.timer.on {
		n.timer.stop()
		return nil
	}
	n.started, n.seconds, n.rang = at, 0, false
	return n.timer.start()
}

// Update counts the timer's seconds from its start, so that a late tick does
// not make it slow.
func (n *number) Update(msg tea.Msg) tea.Cmd {
	again, mine := n.timer.next(msg)
	if !mine {
		return nil
	}
	n.seconds = int(n.o.Now().Sub(n.started).Seconds())
	if n.seconds >= n.step.SlowSeconds && !n.rang {
		n.rang = true
		return tea.Batch(again, n.o.Bell)
	}
	return again
}

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
	case n.rang:
		return layout.Wrap(fmt.Sprintf("timer %d s: time is up. Still rising, or no beep? Wait.", n.seconds), width)
	}
	return []string{fmt.Sprintf("timer %d s of %d s", n.seconds, n.step.SlowSeconds)}
}

// decimalsOf is how finely a number is shown in another unit: as finely as it was typed. A
// weight in whole kilograms is no finer in pounds.
func decimalsOf(q notation.Quantity, typed int) int {
	if (q.Unit == notation.Kilograms || q.Unit == notation.Pounds) && q.Value == math.Trunc(q.Value) {
		return 0
	}
	return max(typed, 1)
}
