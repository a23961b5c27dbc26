package practice

import (
	"fmt"
	"math"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/tui/screen/base"
)

// Limits of what may be kept: the first two derived, the last chosen well under what
// random tapping gives (0.29 of the gap).
const (
	// A keyboard that is asked 125 times a second (uniform 8 ms, SD 2.3 ms) and a
	// frame of 1/60 s (SD 4.8 ms) stray by this much alone, in s.
	leastSigma = 0.005
	// Taps that have nothing to do with the pulse stray by 1/√12 = 0.29 of the gap
	// between beats; from this share on they are not taken for taps on it.
	mostOfGap = 1.0 / 8
	// A delay that varies by a quarter of the scatter adds 3 % to it, little beside
	// the 13 % that 30 taps leave open.
	mostLate = 1.0 / 4
)

// result is what a practice gave; times in s.
type result struct {
	sigma, bias float64
	taps        int // that went with a beat, after the lead-in
	missed      int // beats without a tap, between the first and the last
	held        int // presses of a held key
	late        float64
	perMin      float64
	refused     string // why it cannot be kept; empty where it can
}

func (s *screen) read(sigma, bias float64, n int, taps []float64) result {
	gap := s.pulse.period.Seconds()
	r := result{sigma: sigma, bias: bias, taps: n, held: s.taps.HeldPresses(), perMin: 60 / gap}
	span := s.pulse.nearest(taps[len(taps)-1]) - s.pulse.nearest(taps[0]) + 1
	r.missed = max(span-n-leadIn, 0)
	uneven, worst := s.pulse.lateness()
	r.late = worst
	switch {
	case uneven > mostLate*max(sigma, leastSigma):
		r.refused = fmt.Sprintf("the screen was up to %.0f ms late; this measured the computer, not you, and is not saved", 1000*worst)
	case sigma < leastSigma:
		r.refused = "steadier than screen and keyboard can measure (5 ms); not saved"
	case sigma > mostOfGap*gap:
		r.refused = "these taps do not match the pulse; not saved"
	case s.Deps.Settings.Person == "":
		r.refused = "no name is set: type yours in the settings, then practice again"
	}
	return r
}

// unsure is the standard error of the scatter as a share of it: 1/√(2n).
func (r result) unsure() float64 { return 1 / math.Sqrt(2*float64(r.taps)) }

// halfWidth is what the scatter is worth in a count of so many seconds at the
// rate of the pulse, a minute: 1.96·√2·σ·rate/W.
func (r result) halfWidth(seconds float64) float64 {
	return 1.96 * math.Sqrt2 * r.sigma * r.perMin / seconds
}

// keep stores the scatter for the person of the settings.
func (s *screen) keep() tea.Cmd {
	if s.result.refused != "" || s.kept {
		return nil
	}
	own := exam.Scatter{SigmaS: s.result.sigma, Taps: s.result.taps, At: s.Deps.Now()}
	return base.KeepScatter(s, own, "enter", func() { s.kept = true })
}
