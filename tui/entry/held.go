package entry

import "time"

// The stream of a held key: the press, then nothing for 0.2 to 1.2 s, then
// repeats closer than 0.12 s. A terminal reports no release.
const (
	deadTime    = 250 * time.Millisecond
	repeatGap   = 120 * time.Millisecond
	firstRepeat = 200 * time.Millisecond
	lastRepeat  = 1200 * time.Millisecond
)

// stroke is what a press counts as.
type stroke int

const (
	fresh   stroke = iota // pressed by the person
	repeat                // too soon after the event before: a repeat, or a bounce
	holding               // a repeat that shows the fresh press before it to be one too
)

// held separates presses of a person from the repeats of a held key. The dead time is measured from the last press,
// counted or not.
type held struct {
	began bool
	last  time.Time
	delay time.Duration // of the last fresh press after the event before it
	burst int
}

func (h *held) press(at time.Time) stroke {
	gap, first := at.Sub(h.last), !h.began
	h.last, h.began = at, true
	if first || gap >= deadTime {
		h.delay, h.burst = gap, 0
		if first {
			h.delay = 0
		}
		return fresh
	}
	if gap > repeatGap {
		h.burst = 3
		return repeat
	}
	h.burst++
	if h.burst == 2 && h.delay >= firstRepeat && h.delay <= lastRepeat {
		return holding
	}
	return repeat
}
