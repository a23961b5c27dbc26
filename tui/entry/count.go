package entry

import (
	"errors"
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/tui/keys"
)

// leadIn taps begin a count and are not part of it: the first ones are
// reactions, the later ones fall on the beat.
const leadIn = 2

// Least spans of a tapped count: 15 s of a heart; 60 s or 10 breaths.
const (
	leastHeartS  = 15.0
	leastBreathS = 60.0
	leastBreaths = 10
	// unevenS is how long an uneven heart is counted.
	unevenS = 60.0
)

// count is the widget of a rate: space counts a beat, and the rate gets more exact with every tap. It never stops by itself,
// and never adds or removes taps by itself.
type count struct {
	step exam.Step
	o    Options
	what tap.What

	taps    *tap.Counter
	result  tap.Result
	started time.Time
	done    bool // accepted
	between func(from, to time.Time) (monotonic, wall time.Duration)

	asking *question       // not nil while a question is open on the screen
	sure   map[string]bool // concerns that were shown once; cleared by every tap
	drop   bool            // the next n throws the count away
	said   error
	thrown error // why the count before was thrown away; in sight until the lead-in is over
	ear    *ear  // not nil while counting by ear
}

func newCount(step exam.Step, o Options) *count {
	c := &count{step: step, o: o, what: tap.Heart, between: exam.BothClocks}
	if step.Heard == string(tap.Breath) {
		c.what = tap.Breath
	}
	c.again()
	return c
}

// again begins a new count.
func (c *count) again() {
	c.taps = tap.NewCounter(c.options())
	c.result = c.taps.Result()
	c.asking, c.sure, c.drop, c.done = nil, map[string]bool{}, false, false
}

// options are the options of the count for the person and the horse. A personal scatter is used for hearts only: it is
// measured on a steady pulse.
func (c *count) options() tap.Options {
	o := tap.Options{What: c.what, LeadIn: leadIn, Wanted: c.o.Settings.WantedBreath}
	if c.what == tap.Heart {
		o.Wanted = c.o.Settings.WantedHeart
		o.Sigma = c.o.Settings.Scatter[c.o.Person].SigmaS
		o.Usual = c.o.UsualRate
	}
	return o
}

func (c *count) Init() tea.Cmd { return nil }
func (c *count) Typing() bool  { return false }

// Busy says that there are taps that were not accepted, or a window that runs.
func (c *count) Busy() bool {
	if c.ear != nil && c.ear.busy() {
		return true
	}
	return !c.done && c.taps.Taps() > 0
}

func (c *count) Keys() []keys.Binding {
	switch {
	case c.ear != nil:
		return c.ear.keys()
	case c.asking != nil:
		return []keys.Binding{
			keys.Digit(), keys.Up(), keys.Down(), keys.Accept(),
			keys.TakeBack().With("to the count", "leave the question and go back to the count"),
		}
	}
	none := ""
	if c.taps.Taps() == 0 {
		none = "nothing was tapped yet"
	}
	return []keys.Binding{keys.Tap(), keys.Accept(), keys.TakeBack().OffIf(none), keys.CountAgain().OffIf(none), keys.ByEar()}
}

func (c *count) Press(p keys.Press) (KeyResult, tea.Cmd) {
	if c.ear != nil {
		return c.pressEar(p)
	}
	if !keys.CountAgain().Is(p) {
		c.drop = false
	}
	if c.asking != nil {
		return c.pressQuestion(p), nil
	}
	switch {
	case keys.Tap().Is(p):
		c.tap(p.At)
	case keys.TakeBack().Is(p) && c.taps.Taps() > 0:
		c.takeBack()
	case keys.Accept().Is(p):
		return c.enter(), nil
	case keys.ByEar().Is(p):
		c.ear, c.said = newEar(c.step, c.o, c.what, c.between), nil
	case keys.CountAgain().Is(p) && c.taps.Taps() > 0:
		c.throwAway()
	case keys.Digit().Is(p):
		c.said = errors.New("space taps; press t to type a number")
	default:
		return Ignored, nil
	}
	return Taken, nil
}

// tap adds a tap at the time at which it reached the program. If wall clock and monotonic clock differ, the machine slept,
// and the whole count is thrown away.
func (c *count) tap(at time.Time) {
	c.said, c.done, c.sure = nil, false, map[string]bool{}
	if c.taps.Taps() == 0 && c.taps.HeldPresses() == 0 {
		c.again()
		c.started = at
	}
	since, wall := c.between(c.started, at)
	if err := tap.ClockSlip(since, wall); err != nil {
		c.again()
		c.said, c.thrown = err, err
		return
	}
	if c.taps.Press(since.Seconds()) == tap.Refused {
		c.said = errors.New("this press was not counted: its time is not valid")
	}
	c.result = c.taps.Result()
	switch {
	case c.taps.Taps() > leadIn:
		c.thrown = nil
	case c.said == nil:
		c.said = c.thrown
	}
}

// takeBack removes the last tap, and the answers that were given about it.
func (c *count) takeBack() {
	c.taps.TakeBack()
	for after := range c.taps.Options().Answers {
		if after >= c.taps.Taps() {
			c.taps.Answer(after, tap.Unanswered)
		}
	}
	c.said, c.done, c.sure = nil, false, map[string]bool{}
	c.result = c.taps.Result()
	if c.taps.Taps() == 0 {
		c.again()
	}
}

func (c *count) throwAway() {
	if !c.drop {
		c.drop = true
		c.said = fmt.Errorf("discard the %s? Press n again to discard, any other key to keep it", notation.Counted(c.taps.Taps(), "tap"))
		return
	}
	c.again()
	c.said = nil
}

// enter accepts the count, after its questions and after each concern was shown once.
func (c *count) enter() KeyResult {
	c.said = nil
	if !c.result.HasRate {
		c.said = fmt.Errorf("no rate yet: %d warm-up taps and two more are needed, %d so far", leadIn, c.taps.Taps())
		return Taken
	}
	if c.ask() {
		return Taken
	}
	for _, concern := range c.concerns() {
		if concern.never || !c.sure[concern.what] {
			c.sure[concern.what] = true
			c.said = concern.err
			return Taken
		}
	}
	c.done = true
	return Accepted
}

// Update hands ticks to the window of a count by ear.
func (c *count) Update(msg tea.Msg) tea.Cmd {
	if c.ear == nil {
		return nil
	}
	return c.ear.update(msg)
}

func (c *count) pressEar(p keys.Press) (KeyResult, tea.Cmd) {
	result, cmd := c.ear.press(p)
	if c.ear.left {
		c.ear = nil
	}
	return result, cmd
}
