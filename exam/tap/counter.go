package tap

// A held key: the first press, nothing for 0.25–1.1 s, then 10–40 presses a second. The dead time swallows all but the
// first of these repeats, which comes too late for it and is taken back once the next two have followed.
const (
	repeatGapS  = 0.12  // s, repeats come closer than this and
	batchGapS   = 0.002 // s, not all at once as from a stalled terminal
	repeatFromS = 0.2   // s from the press to the first repeat, at least
	repeatToS   = 1.2   // and at most
	repeats     = 2     // presses after the first repeat that make it a held key
)

// Accepted is what a Counter did with a press.
type Accepted int

// What becomes of a press.
const (
	Kept    Accepted = iota // counts as a tap
	Double                  // within the dead time of the press before: not counted
	Held                    // one of a stream of repeats: not counted; the tap that began the stream may have been taken back
	Refused                 // no number, earlier than the press before, or more than MaxTaps
)

// String says it in a word.
func (a Accepted) String() string {
	switch a {
	case Kept:
		return "kept"
	case Double:
		return "double"
	case Held:
		return "held key"
	case Refused:
		return "refused"
	}
	return "unknown"
}

// Counter takes presses one by one. It is not safe for use by several goroutines.
type Counter struct {
	o     Options
	taps  []float64
	close []float64 // presses that come soon after a listed one and not as repeats: see close.go
	all   []float64 // taps, and those of close that are beats
	held  int
	last  float64 // last raw press
	began bool
	burst int // repeats since the last tap; spent once it cannot be a held key's
	w     work
}

const spent = repeats + 1

// NewCounter begins a count. An unknown What counts as Heart; Options.Held is the number dropped so far.
func NewCounter(o Options) *Counter {
	o = o.filled()
	if o.What != Breath {
		o.What = Heart
	}
	return &Counter{o: o, held: max(0, o.Held)}
}

// Press takes a raw key event at so many seconds. The dead time (0.18 s heart, 0.4 s breath) runs from the last raw
// event, counted or not, so that a held key counts once.
func (c *Counter) Press(at float64) Accepted {
	if wrong(at) != "" || c.began && at < c.last {
		return Refused
	}
	before, gap, first := c.last, at-c.last, !c.began
	c.last, c.began = at, true
	defer c.list()
	if first || gap >= c.o.What.dead() {
		if len(c.taps) >= MaxTaps {
			return Refused
		}
		c.taps, c.burst = append(c.taps, at), 0
		return Kept
	}
	c.held++
	if gap > repeatGapS || gap < batchGapS {
		c.burst = spent
		if gap > repeatGapS {
			c.noteClose(before, at)
		}
		return Double
	}
	c.burst++
	if c.burst < repeats {
		return Double
	}
	if c.burst == repeats {
		c.takeBackRepeat()
	}
	return Held
}

func (c *Counter) takeBackRepeat() {
	n := len(c.taps)
	if n < 2 {
		return
	}
	if delay := c.taps[n-1] - c.taps[n-2]; delay >= repeatFromS && delay <= repeatToS {
		c.taps = c.taps[:n-1]
		c.held++
	}
}

// TakeBack removes the last tap, lead-in included, and says whether there was one. The dead time still runs.
func (c *Counter) TakeBack() bool {
	c.burst = spent
	if len(c.taps) == 0 {
		return false
	}
	if !c.takeBackClose() {
		c.taps = c.taps[:len(c.taps)-1]
	}
	c.list()
	return true
}

// Taps is the number of taps counted, lead-in included.
func (c *Counter) Taps() int { return len(c.all) }

// HeldPresses is the number of presses dropped.
func (c *Counter) HeldPresses() int { return c.held - (len(c.all) - len(c.taps)) }

// Answer notes the answer to the question after that tap (0: both sounds) for the results from now on.
func (c *Counter) Answer(afterTap int, a Answer) { c.o = c.o.Answered(afterTap, a) }

// AnswerRest answers all long gaps that have no answer of their own.
func (c *Counter) AnswerRest(a Answer) { c.o.Rest = a }

// Options are those of the count, with the answers and dropped presses so far: with them Evaluate makes the same
// Result of Raw.
func (c *Counter) Options() Options {
	o := c.o
	o.Held = c.HeldPresses()
	return o
}

// Raw is a copy of the time of every tap, lead-in included, to be stored.
func (c *Counter) Raw() []float64 { return append([]float64(nil), c.all...) }

// Result evaluates the count as it stands.
func (c *Counter) Result() Result { return c.w.evaluate(c.all, c.Options()) }
