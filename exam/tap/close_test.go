package tap

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// quickTaps are n taps at 140 per minute; the change is added to tap k.
func quickTaps(n, k int, change float64) []float64 {
	taps := make([]float64, n)
	for i := range taps {
		taps[i] = float64(i) * 60 / 140
	}
	taps[k] += change
	slices.Sort(taps)
	return taps
}

// A tap that comes 0.3 s late at 140 per minute is 0.13 s before the next one: both are beats.
func TestALateTapOfAQuickHeartCostsNoBeat(t *testing.T) {
	late := quickTaps(60, 30, 0.3)
	r := evaluated(t, late, Options{})
	assert.Equal(t, 60, r.Used)
	assert.Zero(t, r.Held)
	assert.Empty(t, r.Removed)
	assert.InDelta(t, 140, r.Rate, 1e-9)

	c := NewCounter(Options{})
	said := pressed(c, late...)
	assert.Equal(t, Double, said[31], "at that moment it may be a finger that struck twice")
	assert.Equal(t, late, c.Raw())
	assert.Equal(t, 60, c.Taps())
	assert.Zero(t, c.HeldPresses())
	assert.InDelta(t, 140, c.Result().Rate, 1e-9)

	// At rest the same press is a double: a tap never comes a second late.
	slow := append([]float64{0, 1.5, 3, 4.5, 6, 6.13}, 7.5, 9, 10.5)
	assert.Equal(t, 1, evaluated(t, slow, Options{}).Held)
}

func TestAFingerThatStrikesTwiceInAQuickHeartCountsOnce(t *testing.T) {
	twice := append(quickTaps(60, 0, 0), 30*60.0/140+0.13)
	slices.Sort(twice)
	r := evaluated(t, twice, Options{})
	assert.Equal(t, 60, r.Used)
	assert.Equal(t, 1, r.Held)
	assert.InDelta(t, 140, r.Rate, 1e-9)
	c := NewCounter(Options{})
	pressed(c, twice...)
	assert.Equal(t, 60, c.Taps())
	assert.Equal(t, 1, c.HeldPresses())
	assert.Len(t, c.Raw(), 60)
}

// Of two presses at the very start the one that fits the beats is the first tap.
func TestALateFirstTap(t *testing.T) {
	r := evaluated(t, quickTaps(40, 0, 0.3), Options{})
	assert.Equal(t, 39, r.Used)
	assert.InDelta(t, 60.0/140, r.FirstS, 1e-9)
	assert.InDelta(t, 140, r.Rate, 1e-9)
	assert.Equal(t, []Removed{{Tap: 1, AtS: 0.3, Why: "within 0.18 s of another press"}}, r.Removed)
	c := NewCounter(Options{})
	pressed(c, quickTaps(40, 0, 0.3)...)
	assert.Equal(t, quickTaps(40, 0, 0)[1:], c.Raw())
	assert.Equal(t, 1, c.HeldPresses())
	assert.InDelta(t, 140, c.Result().Rate, 1e-9)
}

// Where gaps vary by a third nothing says where a beat is due, and a press within the dead time stays out.
func TestNothingIsPutBackInAnIrregularHeart(t *testing.T) {
	times := every(24, 0.45, 0.95, 0.35, 1.2, 0.6, 0.4, 1.1, 0.5)
	last := times[len(times)-1]
	times = append(times, last+0.15, last+0.9, last+1.4, last+2.4)
	assert.Equal(t, 1, evaluated(t, times, Options{}).Held)
}

func TestTakeBackInAQuickHeart(t *testing.T) {
	late := quickTaps(40, 30, 0.3)
	c := NewCounter(Options{})
	pressed(c, late[:36]...)
	assert.Equal(t, 36, c.Taps())
	for c.Taps() > 32 { // the two close ones are the 31st and the 32nd
		assert.True(t, c.TakeBack())
	}
	assert.Equal(t, late[:31], c.Raw()[:31])
	for c.TakeBack() {
		assert.GreaterOrEqual(t, c.HeldPresses(), 0)
	}
	assert.Zero(t, c.Taps())
	pressed(c, 100, 101, 102)
	assert.Equal(t, []float64{100, 101, 102}, c.Raw(), "nothing is left of the count before")
}

// A held key is no stream of beats, however quick the heart.
func TestAHeldKeyInAQuickHeart(t *testing.T) {
	c := NewCounter(Options{})
	at := 0.0
	for range 30 {
		at += 60.0 / 140
		c.Press(at)
	}
	n := c.Taps()
	c.Press(at + 0.43)
	for p := at + 0.43 + 0.3; p < at+5; p += 0.033 {
		c.Press(p)
	}
	assert.LessOrEqual(t, c.Taps(), n+2)
}

func TestEvennessOfAQuickHeart(t *testing.T) {
	steady := every(120, 0.5, 0.51, 0.5, 0.49, 0.51, 0.5, 0.48)
	assert.Equal(t, Even, evaluated(t, steady, Options{}).Evenness, "a steady finger is no wave")
	assert.Equal(t, Even, evaluated(t, steady, Options{Sigma: 0.04}).Evenness)
	wildly := every(60, 0.5, 0.38, 0.62, 0.7, 0.36, 0.58, 0.44, 0.66, 0.4)
	assert.Equal(t, TooFast, evaluated(t, wildly, Options{}).Evenness, "the finger may have done that")
	assert.Equal(t, Irregular, evaluated(t, wildly, Options{Sigma: 0.03}).Evenness, "this finger does not")
	assert.Equal(t, TooFew, evaluated(t, wildly[:30], Options{Sigma: 0.03}).Evenness, "15 s say nothing")
}
