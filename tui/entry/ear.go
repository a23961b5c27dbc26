package entry

import (
	"errors"
	"fmt"
	"strconv"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/tap"
	"loosebox/tui/keys"
)

// earStage is how far a count by ear is.
type earStage int

const (
	earChoose earStage = iota // which window
	earReady                  // until the press that starts the clock
	earRun                    // until the bell
	earType                   // the number counted
	earRead                   // a rate read elsewhere, typed
)

// elsewhere is the key of the choice for a rate that was read elsewhere, without a window.
const elsewhere = "elsewhere"

// ear is a count by ear: press on a beat, count, type the number after the bell.
type ear struct {
	step exam.Step
	o    Options
	what tap.What

	stage   earStage
	list    list
	window  int // seconds
	started time.Time
	shown   int // whole seconds since the start
	timer   ticker
	line    typed
	erase   erase
	number  *number
	sure    string
	said    error
	left    bool // back to tapping
	between func(from, to time.Time) (monotonic, wall time.Duration)
}

func newEar(step exam.Step, o Options, what tap.What, between func(from, to time.Time) (time.Duration, time.Duration)) *ear {
	e := &ear{step: step, o: o, what: what, between: between, timer: ticker{later: o.later}, list: list{cursor: -1}, line: typed{allowed: digitSigns}}
	hints := map[int]string{
		15: "in steps of 4 /min; up to 16 beats", 30: "in steps of 2 /min; up to 32 beats",
		60: "in steps of 1 /min; needed if uneven, faint or a murmur",
	}
	if what == tap.Breath {
		hints = map[int]string{
			15: "in steps of 4 /min; too short for breathing", 30: "in steps of 2 /min; for 10 breaths or more",
			60: "in steps of 1 /min; best for breathing",
		}
	}
	for _, s := range []int{15, 30, 60} {
		e.list.choices = append(e.list.choices, exam.Choice{Key: strconv.Itoa(s), Words: fmt.Sprintf("%d s", s), Hint: hints[s]})
	}
	e.list.choices = append(e.list.choices, exam.Choice{Key: elsewhere, Words: "a rate from a monitor", Hint: "from a monitor, typed"})
	return e
}

func (e *ear) busy() bool {
	return e.stage == earRun || e.stage == earType && e.line.text != ""
}

func (e *ear) keys() []keys.Binding {
	back := keys.TakeBack().With("undo", "go back to what was before")
	tapping := keys.ByEar().With("tap instead", "go back to tapping")
	switch e.stage {
	case earReady:
		return []keys.Binding{keys.Tap().With("start", "start on a beat; that beat is zero"), back, tapping}
	case earRun:
		return []keys.Binding{keys.TakeBack().With("stop", "stop and begin again")}
	case earType:
		return []keys.Binding{keys.Accept(), keys.TakeBack(), tapping}
	case earRead:
		return []keys.Binding{keys.Accept(), keys.TakeBack(), tapping}
	case earChoose:
	}
	return []keys.Binding{keys.Digit(), keys.Up(), keys.Down(), keys.Accept(), tapping}
}

func (e *ear) press(p keys.Press) (KeyResult, tea.Cmd) {
	typed := e.stage == earType && e.line.text != "" || e.stage == earRead && e.number.line.text != ""
	if e.erase.blocks(p, !typed) {
		return Taken, nil
	}
	switch {
	case keys.ByEar().Is(p) && e.stage != earRun:
		e.left = true
		return Taken, nil
	case e.stage == earChoose:
		return e.choose(p), nil
	case e.stage == earRead:
		return e.pressRead(p)
	case keys.Tap().Is(p) && e.stage == earReady:
		e.said = nil
		return Taken, e.start(p.At)
	case keys.Tap().Is(p):
		return Taken, nil // people tap along; only the start is timed
	case keys.TakeBack().Is(p) && e.line.text == "":
		e.back()
		return Taken, nil
	case e.stage == earType && keys.Accept().Is(p):
		return e.enter(), nil
	case e.stage == earType && e.line.press(p):
		e.said = nil
		return Taken, nil
	case e.stage != earType && (keys.Digit().Is(p) || keys.Accept().Is(p)):
		e.said = errors.New("the number is typed after the bell")
		return Taken, nil
	}
	return Ignored, nil
}

func (e *ear) choose(p keys.Press) KeyResult {
	switch {
	case keys.Accept().Is(p):
		chosen, ok := e.list.chosen()
		switch {
		case !ok:
			e.said = errors.New("choose by the number of the line, then enter")
		case chosen.Key == elsewhere:
			e.stage, e.said = earRead, nil
			o := e.o
			o.Before = nil
			e.number = newNumber(e.step, o)
		default:
			e.window, _ = strconv.Atoi(chosen.Key)
			e.stage, e.said = earReady, nil
		}
	case keys.TakeBack().Is(p):
		e.left = true
	case e.list.press(p):
		e.said = nil
	default:
		return Ignored
	}
	return Taken
}

func (e *ear) pressRead(p keys.Press) (KeyResult, tea.Cmd) {
	if keys.TakeBack().Is(p) && e.number.line.text == "" {
		e.back()
		return Taken, nil
	}
	result, cmd := e.number.Press(p)
	if result == Ignored && keys.Tap().Is(p) {
		return Taken, cmd // a tap would be lost on the screen, too
	}
	return result, cmd
}

// back goes to the stage before; a running clock is stopped.
func (e *ear) back() {
	e.said = nil
	e.timer.stop()
	switch e.stage {
	case earRun, earType:
		e.stage = earReady
	case earReady, earRead, earChoose:
		e.stage = earChoose
	}
}

// endMsg comes when a window is over; the ticks only show the seconds.
type endMsg tickMsg

func (e *ear) start(at time.Time) tea.Cmd {
	e.stage, e.started, e.shown, e.line.text, e.sure = earRun, at, 0, "", ""
	tick := e.timer.start()
	end := endMsg{of: &e.timer, run: e.timer.run}
	left := time.Duration(e.window)*time.Second - e.o.Now().Sub(at) // the bell is not late by what the program did meanwhile
	return tea.Batch(tick, e.o.later(max(left, 0), end))
}

func (e *ear) update(msg tea.Msg) tea.Cmd {
	again, tick := e.timer.next(msg)
	end, ended := msg.(endMsg)
	ended = ended && end.of == &e.timer && end.run == e.timer.run && e.stage == earRun
	if !tick && !ended {
		return nil
	}
	since, wall := e.between(e.started, e.o.Now())
	if err := tap.ClockSlip(since, wall); err != nil {
		e.back()
		e.said = err
		return nil
	}
	e.shown = int(since.Seconds())
	if !ended && since < time.Duration(e.window)*time.Second {
		return again
	}
	e.timer.stop()
	e.stage, e.shown = earType, e.window
	return e.o.Bell
}
