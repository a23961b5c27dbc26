package rehearse

import (
	"math"
	"sort"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

// How far a count may lie from what was there, all our own. Tapping is off by √2·σ·rate/W only, a tenth of a beat a minute
// in half a minute of steady tapping, so 2 % leaves out nobody who taps every beat, and lets nobody through who misses one
// in twenty; a count by ear comes in steps of 60/window; of a typed rate nothing is known.
const (
	tappedAllowed = 0.02
	tappedLeast   = 0.2 // per minute
	typedAllowed  = 0.05
	typedLeast    = 2.0 // per minute
)

// markCount sets a count beside the beats or breaths of the very stretch that was counted, where the record says when
// the count began; else beside the rate in the long run.
func (m *marker) markCount(step exam.Step, f exam.Finding) CountMark {
	c := CountMark{Place: m.place(f.Key()), Method: exam.CountTyped, TruePerMin: m.horse.rate(step.ID), Basis: "its rate over the whole rehearsal"}
	c.PerMin, _ = f.Value.In(notation.PerMinute)
	n := f.Value.Count
	if n != nil {
		c.Method = n.Method
	}
	c.AllowedPerMin = max(typedLeast, typedAllowed*c.TruePerMin)
	zero, known := clockOf(m.visit, f.Key(), f.Seq)
	switch {
	case n == nil:
	case n.Method == exam.CountByEar && n.WindowS > 0:
		c.AllowedPerMin = 60 / n.WindowS * 1.05 // one count, and a little for the first beat
		if known {
			m.stretch(&c, step, zero, zero+n.WindowS, "in your window of "+notation.FormatNumber(n.WindowS, 0)+" s")
		}
	case n.Method == exam.CountTapped && known && len(n.TapsS) > n.LeadIn+1:
		first := zero + n.TapsS[max(0, n.LeadIn)]
		if m.stretch(&c, step, first, zero+n.TapsS[len(n.TapsS)-1], "between your first and last tap") {
			c.AllowedPerMin = max(tappedLeast, tappedAllowed*c.TruePerMin)
		}
		m.scatter(&c, step, zero, n.TapsS)
	}
	c.ErrorPerMin = c.PerMin - c.TruePerMin
	c.Short = m.countShort(step, f)
	c.Right = c.Short == "" && f.Value.Number != nil && math.Abs(c.ErrorPerMin) <= c.AllowedPerMin+1e-9
	return c
}

func (h *Horse) events(step exam.Step, from, to float64) []float64 {
	if step.Heard == string(tap.Breath) {
		return h.Breaths(from, to)
	}
	return h.Beats(from, to)
}

// stretch puts the true rate from one second to another: the beats in between, the gaps at both ends in parts. A tap that
// falls on its beat gives the very rate first beat to last. False where the stretch holds less than one gap.
func (m *marker) stretch(c *CountMark, step exam.Step, from, to float64, where string) bool {
	at := m.horse.events(step, from-30, to+30)
	if from < 30 && len(at) > 1 { // nothing is known before the opening: one gap more like the first
		at = append([]float64{2*at[0] - at[1]}, at...)
	}
	n := position(at, to) - position(at, from)
	if !(n >= 1) {
		return false
	}
	c.TruePerMin = 60 * n / (to - from)
	noun := "beats"
	if step.Heard == string(tap.Breath) {
		noun = "breaths"
	}
	c.Basis = "the " + noun + " " + where
	return true
}

// position is the number of the time t in a rising list, from 0, in parts between two of them; NaN outside the list.
func position(at []float64, t float64) float64 {
	i := sort.SearchFloat64s(at, t)
	switch {
	case i < len(at) && at[i] == t:
		return float64(i)
	case i == 0 || i == len(at):
		return math.NaN()
	}
	return float64(i-1) + (t-at[i-1])/(at[i]-at[i-1])
}

// scatter measures how late and how unsteady the taps were; nothing where too few of them go with a beat.
func (m *marker) scatter(c *CountMark, step exam.Step, zero float64, taps []float64) {
	at := make([]float64, len(taps))
	for i, t := range taps {
		at[i] = zero + t
	}
	sigma, bias, n, err := tap.Scatter(at, m.horse.events(step, at[0]-10, at[len(at)-1]+10))
	if c.Pairs = n; err == nil {
		c.SigmaS, c.BiasS = &sigma, &bias
	}
}
