package entry

import (
	"errors"
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/tui/keys"
)

// mostTrials is how often a time is taken; their median counts.
const mostTrials = 3

// stopwatch is the widget of a time between two presses, such as release and return of colour. A time can be typed as
// well.
type stopwatch struct {
	still
	step    exam.Step
	o       Options
	trials  []float64
	running bool
	started time.Time
	resume  time.Time // start of the last trial, should its end turn out a repeat
	key     held
	line    typed
	erase   erase
	sure    string // the answer that was accepted although unlikely
	said    error
	between func(from, to time.Time) (monotonic, wall time.Duration)
}

func newStopwatch(step exam.Step, o Options) *stopwatch {
	return &stopwatch{step: step, o: o, line: typed{allowed: numberSigns}, between: exam.BothClocks}
}

func (w *stopwatch) Busy() bool { return w.running }

func (w *stopwatch) Keys() []keys.Binding {
	does, more := "start", "press as you release"
	switch {
	case w.running:
		does, more = "stop", "press at the return"
	case len(w.trials) == mostTrials:
		does = ""
	case len(w.trials) > 0:
		does = "again"
	}
	list := []keys.Binding{keys.Tap().With(does, more), keys.Accept()}
	if w.running || w.line.text != "" || len(w.trials) > 0 {
		list = append(list, keys.TakeBack())
	}
	return list
}

func (w *stopwatch) Press(p keys.Press) (KeyResult, tea.Cmd) {
	if w.erase.blocks(p, !w.running && w.line.text == "") {
		return Taken, nil
	}
	switch {
	case keys.Tap().Is(p):
		w.said = nil
		w.space(p.At)
		return Taken, nil
	case keys.Accept().Is(p):
		return w.enter(), nil
	case w.running && keys.TakeBack().Is(p):
		w.running, w.said = false, nil
		return Taken, nil
	case w.running:
		return Ignored, nil
	case w.line.press(p):
		w.said = w.line.pasteCut()
		return Taken, nil
	case keys.TakeBack().Is(p) && len(w.trials) > 0:
		w.trials, w.said = w.trials[:len(w.trials)-1], nil
		return Taken, nil
	}
	return Ignored, nil
}

// space starts and stops the watch. Repeats of a held key do neither: if the late first repeat was taken for the stop, the
// next one undoes it and the watch runs on.
func (w *stopwatch) space(at time.Time) {
	switch w.key.press(at) {
	case repeat:
		return
	case holding:
		if !w.running && len(w.trials) > 0 && !w.resume.IsZero() {
			w.trials = w.trials[:len(w.trials)-1]
			w.running, w.started = true, w.resume
		} else if w.running {
			w.running = false // the held press had been the stop before
		}
		w.said = errors.New("a held key counts once: press at the release and at the return")
		return
	case fresh:
	}
	switch {
	case w.running:
		w.stop(at)
	case len(w.trials) == mostTrials:
		w.said = errors.New("three times are enough: enter saves, backspace removes the last one")
	default:
		w.running, w.started, w.resume, w.line.text = true, at, time.Time{}, ""
	}
}

func (w *stopwatch) stop(at time.Time) {
	w.running = false
	long, wall := w.between(w.started, at)
	if err := tap.ClockSlip(long, wall); err != nil {
		w.said = err
		return
	}
	if _, err := w.step.TimesValue([]float64{long.Seconds()}); err != nil {
		w.said = fmt.Errorf("%w: this time does not count, take it again", err)
		return
	}
	w.trials, w.resume = append(w.trials, long.Seconds()), w.started
}

func (w *stopwatch) enter() KeyResult {
	if w.running {
		w.said = errors.New("the stopwatch is running: space at the return, or backspace to discard it")
		return Taken
	}
	v, err := w.Value()
	if err == nil {
		err = w.unlikely(v)
	}
	if w.said = err; err != nil {
		return Taken
	}
	if w.line.text != "" {
		w.trials, w.line.text = v.TrialsS, ""
	}
	return Accepted
}

// unlikely asks once about a median that is possible but far from usual.
func (w *stopwatch) unlikely(v exam.Value) error {
	answer := v.Number.Text(2)
	if w.sure == answer || w.step.Likely == (exam.Span{}) || w.step.Likely.Contains(v.Number.Value) {
		return nil
	}
	w.sure = answer
	return fmt.Errorf("%s is %w for %s: press enter again if it is so", answer, exam.ErrUnlikely, strings.ToLower(w.step.Name))
}

// Value is the median of the times taken, and of the typed one.
func (w *stopwatch) Value() (exam.Value, error) {
	if w.line.text == "" && len(w.trials) == 0 {
		return exam.Value{}, &notation.Refusal{Why: "no time yet: space at the release, space again at the return"}
	}
	if w.line.text == "" {
		return w.step.TimesValue(w.trials)
	}
	q, err := notation.ParseQuantity(w.line.text)
	if err != nil {
		return exam.Value{}, err
	}
	v, err := w.step.TimesValue(append(append([]float64(nil), w.trials...), q.Value))
	v.Typed = w.line.text
	return v, err
}
