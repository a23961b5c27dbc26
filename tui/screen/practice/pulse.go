package practice

import (
	"math"
	"time"
)

// shine is how long the block stands on each beat.
const shine = 200 * time.Millisecond

// pulse is a steady beat on the screen. Beat k is due at start + k·period; ticks
// only say when to look, so that nothing adds up.
//
// Taps are compared with the due times of the beats, not with the times at which the block was drawn. At 0.45 to 1.8 s
// between beats people anticipate a steady pulse rather than wait for it (Miyake, Onishi & Pöppel), so a block that is a
// little late hardly moves the tap. The time of drawing is not known here anyway: the terminal draws up to a frame (17 ms)
// after the program. How late the program itself was is known: if that varied too much, the result is not offered to be
// kept. A constant delay of screen and keyboard goes into the bias, which is not used.
type pulse struct {
	period time.Duration
	start  time.Time // of beat 0
	late   []float64 // s by which the program was late, of every beat so far
	dark   time.Time // end of the present block
}

// step looks at the clock: whether the block stands, whether a beat is new, and
// how long it is until something changes.
func (p *pulse) step(now time.Time) (lit, beat bool, wait time.Duration) {
	for !p.due(len(p.late)).After(now) {
		p.late = append(p.late, now.Sub(p.due(len(p.late))).Seconds())
		p.dark, beat = now.Add(shine), true
	}
	next := p.due(len(p.late))
	if lit = now.Before(p.dark); lit && p.dark.Before(next) {
		next = p.dark
	}
	return lit, beat, next.Sub(now)
}

func (p *pulse) due(k int) time.Time { return p.start.Add(time.Duration(k) * p.period) }

// nearest is the beat nearest to a time in s since the start, and 0 before it.
func (p *pulse) nearest(at float64) int {
	return max(int(math.Round(at/p.period.Seconds())), 0)
}

// beats are the times in s of every beat that a tap up to the given time can
// belong to.
func (p *pulse) beats(last float64) []float64 {
	out := make([]float64, p.nearest(last)+2)
	for k := range out {
		out[k] = float64(k) * p.period.Seconds()
	}
	return out
}

// lateness is how much the delay of the program varied (SD) and its worst, in s.
func (p *pulse) lateness() (sd, worst float64) {
	if len(p.late) < 2 {
		return 0, 0
	}
	mean := 0.0
	for _, l := range p.late {
		mean += l / float64(len(p.late))
		worst = max(worst, l)
	}
	sum := 0.0
	for _, l := range p.late {
		sum += (l - mean) * (l - mean)
	}
	return math.Sqrt(sum / float64(len(p.late)-1)), worst
}
