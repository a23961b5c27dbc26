package tap

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// FEI Endurance Rules 2019, art. 821.2.3: 15 s with at most 16 beats, 30 s with at most 32, else the full minute.
func TestCounted(t *testing.T) {
	for _, c := range []struct {
		what     What
		n, s     int
		doubtful bool
		rate     float64
		step     float64
		enough   bool
	}{
		{Heart, 16, 15, false, 64, 4, true},
		{Heart, 17, 15, false, 68, 4, false},
		{Heart, 32, 30, false, 64, 2, true},
		{Heart, 33, 30, false, 66, 2, false},
		{Heart, 33, 60, false, 33, 1, true},
		{Heart, 8, 15, true, 32, 4, false},
		{Heart, 40, 60, true, 40, 1, true},
		{Breath, 3, 15, false, 12, 4, false},
		{Breath, 10, 30, false, 20, 2, true},
		{Breath, 10, 30, true, 20, 2, false},
		{Breath, 9, 60, false, 9, 1, true},
	} {
		got, err := Counted(c.what, c.n, c.s, c.doubtful)
		require.NoError(t, err)
		assert.InDelta(t, c.rate, got.RatePerMin, 1e-12)
		assert.InDelta(t, c.rate+c.step, got.UnderPerMin, 1e-12)
		assert.InDelta(t, c.rate+c.step/2, got.MiddlePerMin, 1e-12)
		assert.InDelta(t, c.step, got.StepPerMin, 0)
		assert.Equal(t, c.enough, got.Enough, "%+v", c)
		assert.Equal(t, c.enough, got.Why == "", "%+v", c)
		assert.NotEmpty(t, got.Source)
	}
	got, _ := Counted(Heart, 10, 15, false)
	assert.Equal(t, "in steps of 4 a minute: 40 or more and under 44", got.Coarse)
	for _, bad := range [][2]int{{-1, 15}, {10, 20}, {1000, 60}, {10, 0}} {
		_, err := Counted(Heart, bad[0], bad[1], false)
		require.Error(t, err)
	}
	_, err := Counted("", 10, 15, false)
	require.Error(t, err)
}

func TestClockSlip(t *testing.T) {
	require.NoError(t, ClockSlip(30*time.Second, 30*time.Second))
	require.NoError(t, ClockSlip(30*time.Second, 31*time.Second))
	require.ErrorContains(t, ClockSlip(30*time.Second, 95*time.Second), "differ by 65.0 s, so the machine slept")
	require.ErrorContains(t, ClockSlip(30*time.Second, 28*time.Second), "set back")
	require.Error(t, ClockSlip(0, math.MinInt64))
}
