package tap

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func metamorphicLine(t *testing.T) verdict {
	if t.Run("rapid", func(t *testing.T) { rapid.Check(t, metamorphic) }) {
		return verdict{"no counterexample", true}
	}
	return verdict{"a counterexample, see above", false}
}

// drawTaps is a recording of at least 15 s at 25 to 60 per minute with some gaps of two or three beats, at 1/1024 s so that
// shifting is exact.
func drawTaps(t *rapid.T) []float64 {
	period := rapid.Float64Range(1.0, 2.4).Draw(t, "period")
	n := int(15/period) + rapid.IntRange(2, 40).Draw(t, "more")
	out, at := make([]float64, 0, n+1), 0.0
	for range n + 1 {
		out = append(out, math.Round(at*1024)/1024)
		at += period * (1 + 0.08*rapid.Float64Range(-1, 1).Draw(t, "off"))
		if rapid.IntRange(0, 19).Draw(t, "gap") == 0 {
			at += period
		}
	}
	return out
}

func metamorphic(t *rapid.T) {
	taps := drawTaps(t)
	of := func(f func(i int) float64) Result {
		out := make([]float64, len(taps))
		for i := range taps {
			out[i] = f(i)
		}
		r, err := Evaluate(out, Options{})
		require.NoError(t, err)
		return r
	}
	want := of(func(i int) float64 { return taps[i] })
	same := func(r Result, c float64, what string) {
		assert.InEpsilon(t, want.Rate, r.Rate*c, 1e-12, what)
		assert.InDelta(t, want.HalfWidth, r.HalfWidth*c, 1e-9, what)
		if c == 1 { // what may be said about evenness hangs on seconds and on the scatter of a finger
			assert.Equal(t, want.Evenness, r.Evenness, what)
		}
		assert.Equal(t, want.Pauses, r.Pauses, what)
		assert.Len(t, r.Questions, len(want.Questions), what)
		assert.Len(t, r.Early, len(want.Early), what)
	}
	same(of(func(i int) float64 { return taps[i] * 2 }), 2, "scaled; also half as many per minute")
	shift := float64(rapid.IntRange(-5000, 5000).Draw(t, "shift"))
	same(of(func(i int) float64 { return taps[i] + shift }), 1, "shifted")
	same(of(func(i int) float64 { return taps[i] + 0.125 }), 1, "a constant delay")
	last := len(taps) - 1
	same(of(func(i int) float64 { return taps[last] - taps[last-i] }), 1, "reversed")
	rounded := of(func(i int) float64 { return math.Round(taps[i]*1000) / 1000 })
	assert.InDelta(t, want.Rate, rounded.Rate, 0.02, "rounded to 1 ms")
	c := rapid.Float64Range(0.8, 1.5).Draw(t, "c")
	assert.InEpsilon(t, want.Rate, of(func(i int) float64 { return taps[i] * c }).Rate*c, 1e-9)
}

// The Counter and Evaluate make the same result of the same presses, held keys and take-backs included.
func TestCounterIsEvaluate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := Options{What: rapid.SampledFrom([]What{Heart, Breath}).Draw(t, "what"), LeadIn: rapid.IntRange(0, 3).Draw(t, "lead")}
		c, at := NewCounter(o), 0.0
		for range rapid.IntRange(0, 60).Draw(t, "n") {
			at += rapid.OneOf(rapid.Float64Range(0, 0.15), rapid.Float64Range(0.2, 3)).Draw(t, "gap")
			c.Press(at)
			if rapid.IntRange(0, 9).Draw(t, "back") == 0 {
				c.TakeBack()
			}
			c.Result()
		}
		raw := c.Raw()
		assert.True(t, slices.IsSorted(raw))
		again, err := Evaluate(raw, c.Options())
		require.NoError(t, err)
		assert.Equal(t, again, c.Result())
		assert.Equal(t, c.HeldPresses(), again.Held)
	})
}
