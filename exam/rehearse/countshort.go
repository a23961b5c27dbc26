package rehearse

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

// How long a count takes at least: a heart 15 s, and a full minute where it is uneven or murmurs (FEI19, art. 821, and the
// step's how); breathing a minute, or ten breaths (the step's how).
const (
	leastHeartS = 15
	fullS       = 60
	leastBreath = 10
)

// doubtful says that the heart of this horse is counted for the full minute.
func (h *Horse) doubtful() bool {
	if h.word(exam.Key{Step: "heart.rhythm"}) != "regular" {
		return true
	}
	for _, side := range []exam.Site{exam.Left, exam.Right} {
		if n, ok := h.truth[exam.Key{Step: "heart.murmur", Site: side}].In(notation.Points); ok && n > 0 {
			return true
		}
	}
	return false
}

// typedNeed is how long a rate that was only typed must have been counted.
func (h *Horse) typedNeed(step exam.Step) Need {
	switch {
	case step.Heard == string(tap.Breath):
		return Need{min(fullS, leastBreath*60/max(h.rate(step.ID), 1)), "a full minute, or ten breaths", "GUELPH"}
	case h.doubtful():
		return Need{fullS, "an uneven heart, or one with a murmur, is counted for a full minute", "FEI19"}
	}
	return Need{leastHeartS, "a heart is counted for 15 s at least", "FEI19"}
}

// countShort says why a count was too short to stand, however near it came; empty where it was long enough.
func (m *marker) countShort(step exam.Step, f exam.Finding) string {
	need, n := m.horse.typedNeed(step), f.Value.Count
	switch {
	case n == nil || n.Method == exam.CountTyped:
		return m.horse.TooSoon(f.Key(), f.Value, m.sensedAt(f.Key(), f.Seq))
	case n.Method == exam.CountByEar:
		c, err := tap.Counted(tap.What(step.Heard), n.Counted, int(n.WindowS), step.Heard != string(tap.Breath) && m.horse.doubtful())
		if err != nil || c.Enough {
			return ""
		}
		return fmt.Sprintf("%d in %s s: %s", n.Counted, wholeS(n.WindowS), c.Why)
	case len(n.TapsS) < 2:
		return "fewer than two taps"
	}
	span := n.TapsS[len(n.TapsS)-1] - n.TapsS[0]
	gap := span / float64(len(n.TapsS)-1) // the taps are at beats: the window ends up to a gap later
	if span+gap >= need.Seconds || step.Heard == string(tap.Breath) && len(n.TapsS) > leastBreath {
		return ""
	}
	return fmt.Sprintf("tapped for %s s: %s", wholeS(span), strings.TrimSuffix(need.Why, "."))
}
