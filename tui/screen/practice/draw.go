package practice

import (
	"fmt"
	"math"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
)

func (s *screen) View(size layout.Size) string {
	var lines []string
	switch s.stage {
	case running:
		lines = s.drawPulse(size)
	case done:
		lines = s.drawResult(size.W)
	case ready:
		lines = s.drawReady(size.W)
	}
	lines = append(lines, s.drawSaid(size.W)...)
	return strings.Join(lines[:min(len(lines), max(size.H, 0))], "\n")
}

func (s *screen) drawReady(width int) []string {
	lines := s.rate.Lines(s.Deps.Theme, width, true)
	lines = append(lines, "")
	for _, text := range []string{
		fmt.Sprintf("A block shows a steady pulse. Tap space with it: %d warm-up taps, then %d.", leadIn, wanted),
		"It measures how much your taps vary, for the accuracy of your heart counts. It is optional. Nothing is saved until you confirm.",
	} {
		lines = append(lines, layout.Wrap(text, width)...)
	}
	if own, ok := s.Deps.Settings.Scatter[s.Deps.Settings.Person]; ok && s.Deps.Settings.Person != "" {
		lines = append(lines, layout.Cut("saved now: "+kept(own, s.Deps.Now()), width))
	}
	return lines
}

func kept(own exam.Scatter, now time.Time) string {
	return fmt.Sprintf("your taps vary by %.0f ms (%d taps, %s)", 1000*own.SigmaS, own.Taps, notation.ShownOn(own.At, now))
}

// The block of the pulse.
const (
	blockRows = 5
	blockWide = 20
)

func (s *screen) drawPulse(size layout.Size) []string {
	t := s.Deps.Theme
	row := ""
	if s.lit {
		row = strings.Repeat(" ", 4) + t.Digits.Render(strings.Repeat(t.Sign.Block, blockWide))
	}
	lines := []string{""}
	for range min(blockRows, max(size.H-4, 1)) {
		lines = append(lines, layout.Cut(row, size.W))
	}
	n := fmt.Sprintf("%d of %d", s.paired, wanted)
	if s.paired == 0 {
		n = fmt.Sprintf("warm-up %d of %d", min(s.taps.Taps(), leadIn), leadIn)
	}
	lines = append(lines, "", layout.Cut("space at each block   "+t.Strong.Render(n), size.W))
	if held := s.taps.HeldPresses(); held > 0 {
		lines = append(lines, t.Faint.Render(layout.Cut("a held key counts once", size.W)))
	}
	return lines
}

// drawResult says what was measured, how sure it is and what it is for.
func (s *screen) drawResult(width int) []string {
	t, r := s.Deps.Theme, s.result
	sign := "±"
	if t.ASCII {
		sign = "+/-"
	}
	side := "after the pulse"
	if r.bias < 0 {
		side = "before the pulse"
	}
	var lines []string
	add := func(text string) { lines = append(lines, layout.Wrap(text, width)...) }
	lines = append(lines, t.Strong.Render(layout.Cut(fmt.Sprintf("your taps vary by %.0f ms", 1000*r.sigma), width)))
	add(fmt.Sprintf("error %s %.0f %%: the standard error after %d taps (derived, 1 / root of 2 x %d)", sign, 100*r.unsure(), r.taps, r.taps))
	add(fmt.Sprintf("on average %.0f ms %s, with the delay of keyboard and screen; this does not change a rate", 1000*math.Abs(r.bias), side))
	var odd []string
	if r.missed > 0 {
		odd = append(odd, fmt.Sprintf("beats without a tap: %d", r.missed))
	}
	if r.held > 0 {
		odd = append(odd, fmt.Sprintf("presses of a held key not counted: %d", r.held))
	}
	add(strings.Join(append(odd, fmt.Sprintf("the pulse was shown at most %.0f ms late", 1000*r.late)), "; "))
	lines = append(lines, "")
	add(fmt.Sprintf("Accuracy of your heart counts: %s %.1f /min after 30 s at %.0f /min. It is valid only while you tap like this.",
		sign, r.halfWidth(30), r.perMin))
	return append(append(lines, ""), s.drawOffer(width)...)
}

// drawOffer says what may be done with the result.
func (s *screen) drawOffer(width int) []string {
	t, person := s.Deps.Theme, notation.CleanLine(s.Deps.Settings.Person, 60)
	switch {
	case s.result.refused != "":
		lines := layout.Wrap(t.Sign.NotDone+" "+s.result.refused+". Press n to practice again.", width)
		for i := range lines {
			lines[i] = t.Error.Render(lines[i])
		}
		return lines
	case s.Saving():
		return []string{t.Faint.Render("saving ..")}
	case s.kept:
		return []string{t.Good.Render(layout.Cut(t.Sign.Done+" saved for "+person, width))}
	}
	text := "enter saves it for " + person
	if own, ok := s.Deps.Settings.Scatter[s.Deps.Settings.Person]; ok {
		text += ", replaces " + kept(own, s.Deps.Now())
	}
	return layout.Wrap(text, width)
}

func (s *screen) drawSaid(width int) []string {
	if s.said == "" {
		return nil
	}
	lines := layout.Wrap(s.Deps.Theme.Sign.NotDone+" "+s.said, width)
	for i := range lines {
		lines[i] = s.Deps.Theme.Error.Render(lines[i])
	}
	return append([]string{""}, lines...)
}
