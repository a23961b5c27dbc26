package entry

import (
	"errors"
	"fmt"
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/tap"
	"loosebox/tui/layout"
)

// View draws the rate in large digits, and under it how firm it is.
func (c *count) View(size layout.Size) []string {
	switch {
	case c.ear != nil:
		return c.ear.view(size)
	case c.asking != nil:
		return c.viewQuestion(size)
	}
	t := c.o.Theme
	said := sentence(t, c.said, size.W)
	lines := append(c.telling(size.W), said...)
	lines = append(lines, stands(c.o, c.step, size.W)...)
	room := 1
	if size.H >= digitRows+3+len(said) {
		room = digitRows
	}
	rate := "--"
	if c.result.HasRate {
		rate = fmt.Sprintf("%.1f", c.result.Rate)
	}
	head := large(t, rate, "/min", size.W, room)
	if over := len(head) + len(lines) - size.H; over > 0 && len(said) > 0 { // what was just said stays in sight
		keep := max(size.H-len(head)-len(said), 0)
		lines = append(c.telling(size.W)[:min(keep, len(c.telling(size.W)))], said...)
	}
	return fit(append(head, lines...), size)
}

// telling are the lines under the rate, what matters most first.
func (c *count) telling(width int) []string {
	r := c.result
	if c.taps.Taps() == 0 {
		text := "space at each beat; the first 2 taps are warm-up"
		if c.what == tap.Breath {
			text = "space at each breath, as the flank moves out; the first 2 taps are warm-up"
		}
		return append(layout.Wrap(text, width), words(c.o.Theme, "t: timed count, or a rate from a monitor", width)...)
	}
	var lines []string
	if r.HasHalfWidth {
		lines = append(lines, layout.Cut(c.halfWidth(width), width))
	}
	lines = append(lines, layout.Cut(c.progress(), width))
	lines = append(lines, c.leftOut(width)...) // a tap that does not count is said, however low the window is
	var firm []string
	if r.HasRate {
		firm = layout.Wrap(c.firmness(), width)
	}
	if r.Evenness == tap.Irregular { // matters more than how firm the rate is
		lines = append(lines, append(c.evenness(width), firm...)...)
	} else {
		lines = append(lines, append(firm, c.evenness(width)...)...)
	}
	if r.Open > 0 {
		lines = append(lines, layout.Wrap(c.openQuestions(), width)...)
	}
	if r.HasPersonal && r.HasHalfWidth && width < besideFrom { // the first to go where lines are few
		lines = append(lines, words(c.o.Theme, c.personal(), width)...)
	}
	return lines
}

// leftOut says which presses do not count.
func (c *count) leftOut(width int) []string {
	var parts []string
	if held := c.taps.HeldPresses(); held > 0 {
		parts = append(parts, "a held key counts once: "+amount2(held, "press", "presses"))
	}
	if n := len(c.result.Removed) - len(c.notBeats()); n > 0 {
		parts = append(parts, notation.Counted(n, "double tap"))
	}
	if len(parts) == 0 {
		return nil
	}
	return words(c.o.Theme, strings.Join(parts, ", ")+" left out", width)
}

// halfWidth writes the half-width of the rate's interval from the taps of this count, and where there is room the one from
// the person's own scatter, which holds only if the person taps as in the practice.
func (c *count) halfWidth(width int) string {
	text := c.within(c.result.HalfWidth) + ", this count"
	if c.result.HasPersonal && width >= besideFrom {
		text += "; " + c.personal()
	}
	return text
}

// besideFrom is the width from which both half-widths stand on one line.
const besideFrom = 60

func (c *count) personal() string {
	return c.within(c.result.Personal) + ", your usual tapping"
}

// within writes a half-width, never as 0.
func (c *count) within(half float64) string {
	sign := "±"
	if c.o.Theme.ASCII {
		sign = "+/-"
	}
	switch {
	case half < 0.05:
		return sign + " under 0.1 /min"
	}
	return fmt.Sprintf("%s %.1f /min", sign, half)
}

// progress is the taps and seconds that count, or how far the lead-in is.
func (c *count) progress() string {
	if n := c.taps.Taps(); n <= leadIn {
		return fmt.Sprintf("warm-up %d of %d", n, leadIn)
	}
	r := c.result
	return fmt.Sprintf("%s   %.0f s", notation.Counted(r.Used, "tap"), r.LastS-r.FirstS)
}

func (c *count) firmness() string {
	r := c.result
	span := r.LastS - r.FirstS
	wanted := fmt.Sprintf("%.2g /min", r.Wanted)
	short := ""
	switch {
	case c.what == tap.Heart && span < leastHeartS:
		short = fmt.Sprintf("at least %.0f s", leastHeartS)
	case c.what == tap.Breath && span < leastBreathS && r.Beats < leastBreaths:
		short = fmt.Sprintf("at least %.0f s or %d breaths", leastBreathS, leastBreaths)
	}
	switch {
	case r.Firm:
		return "steady: within " + wanted
	case short != "":
		return "keep tapping, " + short
	}
	return "keep tapping, not yet within " + wanted
}

// evenness says how even the taps are; it names no heart rhythm.
func (c *count) evenness(width int) []string {
	r := c.result
	switch {
	case c.what != tap.Heart || r.Evenness == tap.TooFew || r.Evenness == "":
		return nil
	case r.Evenness == tap.Irregular:
		return sentence(c.o.Theme, errors.New(tap.Irregular.String()+
			": count 60 s and tell the veterinarian. Only an ECG names a rhythm"), width)
	case r.Evenness == tap.TooFast:
		return layout.Wrap(tap.AfterTooFast, width)
	case r.Evenness == tap.EvenWithPauses:
		text := fmt.Sprintf("%s: %s, longest %.1f s", r.Evenness, notation.Counted(r.Pauses, "pause"), r.LongestPauseS)
		if r.PausesEvery > 0 {
			text += fmt.Sprintf(", after every %s", notation.Counted(r.PausesEvery, "tap"))
		}
		return layout.Wrap(text, width)
	}
	return []string{layout.Cut(r.Evenness.String(), width)}
}

func (c *count) openQuestions() string {
	gaps, rest := c.unanswered(tap.LongGap), 0
	rest = c.result.Open - gaps
	switch {
	case rest == 0:
		return notation.Counted(gaps, "long gap") + ": asked about at enter"
	case gaps == 0:
		return notation.Counted(rest, "question") + " at enter"
	}
	return fmt.Sprintf("%s and %s at enter", notation.Counted(gaps, "long gap"), notation.Counted(rest, "other question"))
}
