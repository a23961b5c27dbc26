package rehearse

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/steps"
)

// A drill asks one step, is marked like any rehearsal, and needs no hand-off; a perfect trainee has no fault in it.
func TestDrills(t *testing.T) {
	for _, id := range Drillable() {
		r, ok := RoutineNamed(DrillName(id), steps.Table(), steps.Routines())
		require.True(t, ok, id)
		for _, ask := range r.Asks {
			assert.Equal(t, id, ask.Step)
		}
		h := horse(t, "tarn", 5)
		m, err := Mark(h, r, rehearsal(t, h, r, Slips{}), judge.New(held(t), steps.Table()))
		require.NoError(t, err)
		assert.Empty(t, m.Faults(), id)
		assert.False(t, m.HandOff.Needed, id)
		assert.InDelta(t, 100, m.Score.Percent, 1e-9, id)
	}
	for _, name := range []string{"drill gallop", "drill note", "gut.sounds", ""} {
		_, ok := RoutineNamed(name, steps.Table(), steps.Routines())
		assert.False(t, ok, name)
	}
}

// A count at a set rate: the horse beats so, and what is off is told.
func TestACountAtASetRate(t *testing.T) {
	read := func(text string) (Case, error) {
		return ReadCase(strings.NewReader(text), "drill", steps.Table(), held(t))
	}
	for _, rate := range []int{28, 44, 120} {
		c, err := CountCase("heart.rate", rate, steps.Table(), read)
		require.NoError(t, err)
		h, err := New(c, 3, opened(), steps.Table(), held(t))
		require.NoError(t, err)
		assert.InDelta(t, rate, float64(len(h.Beats(0, 600)))/10, 0.03*float64(rate))
	}
	_, err := CountCase("gut.sounds", 3, steps.Table(), read)
	require.ErrorIs(t, err, exam.ErrNotFound)
	_, err = CountCase("heart.rate", 9000, steps.Table(), read)
	require.Error(t, err)
}
