package entry

import (
	"errors"
	"math"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/tui/keys"
)

// number is the widget of a typed number with its unit.
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
	apart   bool // the laptop slept, or its clock was set, while the timer ran
	between func(from, to time.Time) (own, wall time.Duration)
}

func newNumber(step exam.Step, o Options) *number {
	n := &number{step: step, o: o, between: exam.BothClocks, timer: ticker{later: o.later}, line: typed{allowed: numberSigns + unitSigns}}
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

func (n *number) Press(p keys.Press) (KeyResult, tea.Cmd) {
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
func (n *number) enter() KeyResult {
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

// meant is the number that the shown refusal proposes ("did you mean 38.4"), as it is typed; empty where it proposes none or
// two.
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

// asTyped is the typed number, before it is asked about because it is unlikely.
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
	n.started, n.seconds, n.rang, n.apart = at, 0, false, false
	return n.timer.start()
}

// Update shows the seconds since the start of the timer; a late tick does not make the timer slow, and no clock that is set
// makes it ring early.
func (n *number) Update(msg tea.Msg) tea.Cmd {
	again, mine := n.timer.next(msg)
	if !mine {
		return nil
	}
	since, wall := n.between(n.started, n.o.Now())
	n.seconds, n.apart = int(since.Seconds()), tap.ClockSlip(since, wall) != nil
	if n.seconds >= n.step.SlowSeconds && !n.rang {
		n.rang = true
		return tea.Batch(again, n.o.Bell)
	}
	return again
}

// decimalsOf is how finely a number is shown in another unit: as finely as it was typed. A
// weight in whole kilograms is no finer in pounds.
func decimalsOf(q notation.Quantity, typed int) int {
	if (q.Unit == notation.Kilograms || q.Unit == notation.Pounds) && q.Value == math.Trunc(q.Value) {
		return 0
	}
	return max(typed, 1)
}
