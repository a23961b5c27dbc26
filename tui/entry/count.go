package entry

import (
	"errors"
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
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

// count is the field of a rate: space taps, and the rate firms up while it is
// tapped. It never stops by itself and repairs nothing by itself.
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
	c := &count{step: step, o: o, what: tap.Heart, between: bothClocks}
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

// options are those of the person and the horse. A personal scatter is measured
// on a steady pulse and says nothing of breaths.
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

func (c *count) Press(p keys.Press) (Result, tea.Cmd) {
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
		c.said = errors.New("space taps; to type a number press e first, then choose how it was counted")
	default:
		return Ignored, nil
	}
	return Taken, nil
}

// tap takes a press at the moment it reached the program. Where the two clocks
// part, the machine slept and the whole count is worthless.
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
		c.said = errors.New("this press was not counted: it is earlier than the one before, or the count is too long")
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
		c.said = fmt.Errorf("throw away the %s? n again does it, any other key keeps the count", amount(c.taps.Taps(), "tap"))
		return
	}
	c.again()
	c.said = nil
}

// enter accepts the count, after its questions and after each concern was shown once.
func (c *count) enter() Result {
	c.said = nil
	if !c.result.HasRate {
		c.said = fmt.Errorf("no rate yet: %d lead-in taps and two more are needed, %d so far", leadIn, c.taps.Taps())
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

// concern is what is said once before a count is accepted, or what keeps it
// from being accepted at all.
type concern struct {
	what  string
	err   error
	never bool
}

func (c *count) concerns() []concern {
	var out []concern
	r := c.result
	if err := c.spanErr(r.Rate); err != nil {
		out = append(out, concern{"span", err, !errors.Is(err, exam.ErrUnlikely)})
	}
	span := r.LastS - r.FirstS
	switch {
	case c.what == tap.Heart && span < leastHeartS:
		out = append(out, concern{what: "short", err: fmt.Errorf(
			"only %.0f s: a heart is tapped for %.0f s at least. Tap on, or press enter again to keep it", span, leastHeartS)})
	case c.what == tap.Breath && span < leastBreathS && r.Beats < leastBreaths:
		out = append(out, concern{what: "short", err: fmt.Errorf(
			"only %.0f s and %s: breathing needs %.0f s or %d breaths. Tap on, or press enter again to keep it",
			span, amount(r.Beats, "breath"), leastBreathS, leastBreaths)})
	}
	if r.Evenness == tap.Irregular && span < unevenS {
		out = append(out, concern{what: "uneven", err: errors.New(
			"irregular, no repeating pattern: tap on to 60 s and tell the veterinarian; only an ECG names a rhythm. Enter again keeps this count")})
	}
	return out
}

// spanErr refuses an impossible rate and asks about an unlikely one.
func (c *count) spanErr(rate float64) error { return spanErr(c.step, rate) }

func spanErr(step exam.Step, rate float64) error {
	if step.Possible == (exam.Span{}) {
		return nil
	}
	_, err := step.ReadNumber(exam.FormatNumber(rate, 1), step.Unit)
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return &exam.Refusal{Why: fmt.Sprintf("%s /min is not possible for %s: count again",
			exam.FormatNumber(rate, 1), strings.ToLower(step.Name))}
	}
	return err
}

// Value is the rate 60·n/(t_n − t_0) with everything that is needed to compute
// it again.
func (c *count) Value() (exam.Value, error) {
	if c.ear != nil {
		return c.ear.value()
	}
	r := c.result
	switch {
	case !r.HasRate:
		return exam.Value{}, &exam.Refusal{Why: "nothing was counted yet: space at each " + c.noun()}
	case r.Open > 0:
		return exam.Value{}, &exam.Refusal{Why: fmt.Sprintf("%s open: enter asks", amount(r.Open, "question"))}
	}
	if err := c.spanErr(r.Rate); err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return exam.Value{}, err
	}
	n := &exam.Count{
		Method: exam.CountTapped, TapsS: c.taps.Raw(), LeadIn: r.LeadIn, Held: c.taps.HeldPresses(), Evenness: r.Evenness,
	}
	if r.HasHalfWidth {
		n.HalfWidth = r.HalfWidth
	}
	for _, q := range r.Questions {
		switch {
		case q.Kind == tap.LongGap:
			n.Answers = append(n.Answers, exam.GapAnswer{AfterTap: q.AfterTap, Missed: q.Answer == tap.TapMissed})
		case q.Kind == tap.SoundsInTurn:
			n.OneSound = true
		}
	}
	n.NotBeats = c.notBeats()
	return exam.Value{Kind: c.step.Kind, Number: &exam.Quantity{Value: r.Rate, Unit: exam.PerMinute}, Count: n}, nil
}

// Update hands ticks to the window of a count by ear.
func (c *count) Update(msg tea.Msg) tea.Cmd {
	if c.ear == nil {
		return nil
	}
	return c.ear.update(msg)
}

func (c *count) pressEar(p keys.Press) (Result, tea.Cmd) {
	result, cmd := c.ear.press(p)
	if c.ear.left {
		c.ear = nil
	}
	return result, cmd
}

func (c *count) noun() string {
	if c.what == tap.Breath {
		return "breath"
	}
	return "beat"
}

// amount writes a number with its noun, "1 tap", "2 taps".
func amount(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
