package tap

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func pressed(c *Counter, times ...float64) []Accepted {
	var out []Accepted
	for _, at := range times {
		out = append(out, c.Press(at))
	}
	return out
}

func TestPress(t *testing.T) {
	for _, c := range []struct {
		name  string
		what  What
		times []float64
		want  []Accepted
		taps  []float64
	}{
		{"taps", Heart, []float64{0, 1.5, 3}, []Accepted{Kept, Kept, Kept}, []float64{0, 1.5, 3}},
		{"double", Heart, []float64{0, 0.1, 1.5}, []Accepted{Kept, Double, Kept}, []float64{0, 1.5}},
		{
			"the dead time runs from the last raw press", Heart,
			[]float64{0, 0.17, 0.34, 0.51, 1.5},
			[]Accepted{Kept, Double, Double, Double, Kept},
			[]float64{0, 1.5},
		},
		{
			"held: the first repeat is taken back", Heart,
			[]float64{0, 1.5, 2.0, 2.03, 2.06, 2.09, 3},
			[]Accepted{Kept, Kept, Kept, Double, Held, Held, Kept},
			[]float64{0, 1.5, 3},
		},
		{
			"held at the very first beat", Heart,
			[]float64{0, 0.66, 0.7, 0.74, 0.78, 1.5},
			[]Accepted{Kept, Kept, Double, Held, Held, Kept},
			[]float64{0, 1.5},
		},
		{"held breath, first repeat in the dead time", Breath, []float64{0, 0.3, 0.33, 0.36, 0.39, 4}, []Accepted{Kept, Double, Held, Held, Held, Kept}, []float64{0, 4}},
		{"a quick foal held after a short delay keeps its breath", Breath, []float64{0, 1, 1.3, 1.33, 1.36, 2}, []Accepted{Kept, Kept, Double, Held, Held, Kept}, []float64{0, 1, 2}},
		{"a stalled terminal delivers at once: no held key", Heart, []float64{0, 1, 1, 1, 2}, []Accepted{Kept, Kept, Double, Double, Kept}, []float64{0, 1, 2}},
		{"0.3 s is a tap for a heart", Heart, []float64{0, 0.3}, []Accepted{Kept, Kept}, []float64{0, 0.3}},
		{"0.3 s is none for a breath", Breath, []float64{0, 0.3}, []Accepted{Kept, Double}, []float64{0}},
		{"no number", Heart, []float64{0, math.NaN(), 1, 0.5, 2}, []Accepted{Kept, Refused, Kept, Refused, Kept}, []float64{0, 1, 2}},
	} {
		k := NewCounter(Options{What: c.what})
		assert.Equal(t, c.want, pressed(k, c.times...), c.name)
		assert.Equal(t, c.taps, k.Raw(), c.name)
	}
}

// A key let go after one or two repeats is not told from a tap at the keyboard; in the count it raises a question.
func TestShortHoldIsAskedAbout(t *testing.T) {
	c := NewCounter(Options{})
	pressed(c, 0, 1.5, 3, 4.5, 5.16, 5.2, 6, 7.5, 9, 10.5)
	r := c.Result()
	require.Len(t, r.Questions, 1)
	q := r.Questions[0]
	assert.Equal(t, DoubtfulTap, q.Kind)
	assert.Equal(t, 5, q.AfterTap)
	assert.InDelta(t, 40, q.RateIfLess, 1e-9)
	assert.InDelta(t, r.Rate, q.RateAsTapped, 0)
	c.Answer(5, ExtraTap)
	r = c.Result()
	assert.InDelta(t, 40, r.Rate, 1e-9)
	assert.Empty(t, r.Questions)
	assert.Len(t, r.Removed, 1)
	c.Answer(5, RealTap)
	assert.Zero(t, c.Result().Open)
}

func TestTakeBack(t *testing.T) {
	c := NewCounter(Options{LeadIn: 2})
	assert.False(t, c.TakeBack())
	pressed(c, 0, 1, 2, 3.5, 5)
	assert.InDelta(t, 40, c.Result().Rate, 1e-9)
	assert.True(t, c.TakeBack())
	assert.Equal(t, []float64{0, 1, 2, 3.5}, c.Raw())
	assert.Equal(t, Kept, c.Press(5.3))
	assert.InDelta(t, 60*2/3.3, c.Result().Rate, 1e-9)
	// A burst after a take-back does not take another tap with it.
	c.TakeBack()
	pressed(c, 5.35, 5.40, 5.45)
	assert.Equal(t, []float64{0, 1, 2, 3.5}, c.Raw())
}

// The result is no window into the counter: later presses leave it alone.
func TestResultIsItsOwn(t *testing.T) {
	c := NewCounter(Options{})
	pressed(c, goldenG1()...)
	before := c.Result()
	strip := append([]float64(nil), before.Strip...)
	pressed(c, 20, 21, 22, 30)
	c.Result()
	assert.Equal(t, strip, before.Strip)
	raw := c.Raw()
	raw[0] = 99
	assert.NotEqual(t, raw, c.Raw())
}

func TestAnswersAreCopied(t *testing.T) {
	a := Options{}
	b := a.Answered(3, TapMissed)
	c := b.Answered(3, Unanswered)
	assert.Empty(t, a.Answers)
	assert.Equal(t, map[int]Answer{3: TapMissed}, b.Answers)
	assert.Empty(t, c.Answers)
}

func TestFullCounterRefuses(t *testing.T) {
	c := NewCounter(Options{})
	for i := range MaxTaps {
		require.Equal(t, Kept, c.Press(float64(i)))
	}
	assert.Equal(t, Refused, c.Press(MaxTaps))
	assert.Equal(t, MaxTaps, c.Taps())
}
