package marks

import (
	"fmt"
	"math"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/rehearse"
	"loosebox/tui/keys"
	"loosebox/tui/screen/base"
)

// leastPairs is the fewest taps of a rehearsal that are offered as a person's scatter: 20 give it to ±16 %.
const leastPairs = 20

// The least scatter that keyboard and screen can show, and the most that counts as tapping on a beat: 1/12 of the gap at 60 a
// minute is 83 ms, and random taps have 0.29 of the gap.
const (
	leastSigma = 0.005
	mostOfGap  = 1.0 / 8
)

// offer is the scatter that may be kept as the person's own.
type offer struct {
	exam.Scatter
	biasS float64
	off   string // why it cannot be kept; empty where it can
}

// offerOf reads it off the count of the heart; false where there was none.
func (s *screen) offerOf(m rehearse.Marks) (offer, bool) {
	for _, c := range m.Counts {
		if c.Step != "heart.rate" || c.SigmaS == nil {
			continue
		}
		o := offer{Scatter: exam.Scatter{SigmaS: *c.SigmaS, Taps: c.Pairs, At: m.At}, biasS: *c.BiasS}
		o.off = s.refuse(m, c)
		return o, true
	}
	return offer{}, false
}

func (s *screen) refuse(m rehearse.Marks, c rehearse.CountMark) string {
	switch {
	case s.Deps.Settings.Person == "":
		return "no name is set; type yours in the settings"
	case !strings.EqualFold(m.By, s.Deps.Settings.Person):
		return "these are the taps of " + notation.CleanLine(m.By, 40)
	case !c.Right:
		return "these taps did not follow the beats"
	case c.Pairs < leastPairs:
		return fmt.Sprintf("%d taps are too few; %d are needed", c.Pairs, leastPairs)
	case *c.SigmaS < leastSigma:
		return "steadier than screen and keyboard can measure (5 ms)"
	case *c.SigmaS > mostOfGap*60/math.Max(c.TruePerMin, 1):
		return "these taps do not match the beats"
	}
	return ""
}

// keep stores the scatter for the person of the settings.
func (s *screen) keep() tea.Cmd {
	if s.offer.off != "" || s.kept || !s.offered {
		return nil
	}
	return base.KeepScatter(s, s.offer.Scatter, keys.Keep().Shown(), func() { s.kept = true; s.gather() })
}

// offerBlock says what may be done with the scatter.
func (s *screen) offerBlock() rehearse.Block {
	o := s.offer
	sign := "±"
	if s.Deps.Theme.ASCII {
		sign = "+/-"
	}
	text := fmt.Sprintf("your taps vary by %.0f ms (%s %.0f %%, %d taps).", 1000*o.SigmaS, sign, 100/math.Sqrt(2*float64(max(o.Taps, 1))), o.Taps)
	switch own, has := s.Deps.Settings.Scatter[s.Deps.Settings.Person]; {
	case s.kept:
		text += " Saved as yours."
	case o.off != "":
		text += " It cannot be saved: " + o.off + "."
	case has:
		text += fmt.Sprintf(" %s saves it as yours; it replaces %.0f ms from %d taps of %s.", keys.Keep().Shown(), 1000*own.SigmaS, own.Taps, notation.ShownOn(own.At, s.Deps.Now()))
	default:
		text += fmt.Sprintf(" %s saves it as yours.", keys.Keep().Shown())
	}
	return rehearse.Block{Title: "How steadily you tap", Lines: []rehearse.MarkLine{{
		Lead: "  ", Text: text,
		Why: "How far your taps at the heart stray from its beats, for the interval of your heart counts. It is right only while you tap like this; every count shows the interval of its own taps first. " +
			"How sure: the standard error of a standard deviation, 1 / root of 2 x taps.",
	}}}
}
