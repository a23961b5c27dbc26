package rehearse

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
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
		m, err := Mark(h, r, rehearsal(t, h, r, Slips{}), judging(t))
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

// The drill of the order asks for the places round the horse alone: order is all that is marked. What comes after three
// minutes does not count, in this drill as in every other; a drill whose listening takes longer has that time.
func TestTheDrillOfTheOrder(t *testing.T) {
	r, ok := Drill(OrderDrill, steps.Table(), steps.Routines())
	require.True(t, ok)
	require.Greater(t, len(r.Asks), 5)
	h := horse(t, "tarn", 5)
	assert.InDelta(t, 180, h.LimitS(r), 0)
	assert.Equal(t, Modes{Blind: true, Timed: true}, DrillModes(r.Name, Modes{}))
	play := func(order []int, every time.Duration) Marks {
		a := &attempt{Trainee: Trainee{By: "Ann"}, h: h, routine: r}
		a.append(exam.Entry{Kind: exam.EntryOpened, Opening: h.Opening(h.Animal, r.Name)})
		a.append(exam.Entry{Kind: exam.EntryContext, Context: &exam.Context{States: h.Context.States}})
		for _, i := range order {
			a.now += every.Seconds()
			for _, k := range r.Asks[i].Keys() {
				a.append(exam.Entry{Kind: exam.EntryNotDone, Step: k.Step, Site: k.Site, Reason: string(exam.ReasonNotApplicable)})
			}
		}
		a.append(exam.Entry{Kind: exam.EntryClosed})
		require.NoError(t, a.err)
		for i := range a.entries {
			a.entries[i].Seq, a.entries[i].Visit = i+1, "v"
			if i > 0 {
				a.entries[i].Prev = a.entries[i-1].Hash
			}
			require.NoError(t, exam.Seal(&a.entries[i]))
		}
		m, err := Mark(h, r, a.entries, judging(t))
		require.NoError(t, err)
		return m
	}
	var straight []int
	for i := range r.Asks {
		straight = append(straight, i)
	}
	perfect := play(straight, 5*time.Second)
	assert.InDelta(t, 100, perfect.Score.Percent, 1e-9, perfect.Score.InParts())
	assert.Empty(t, perfect.Faults())
	turned := append([]int{straight[len(straight)-1]}, straight[:len(straight)-1]...)
	wrong := play(turned, 5*time.Second)
	assert.Less(t, wrong.Score.Percent, 100.0)
	require.Len(t, wrong.Order.OutOfOrder, 1)
	slow := play(straight, 70*time.Second)
	assert.Less(t, slow.Score.Percent, 70.0)
	assert.Positive(t, slow.Late)
	assert.Contains(t, strings.Join(strings.Fields(Text(slow, 100)), " "), "of the drill and do not count")

	gut, _ := Drill(DrillName("gut.sounds"), steps.Table(), steps.Routines())
	assert.GreaterOrEqual(t, h.LimitS(gut), 240.0, "a minute a quadrant")
	refill, _ := Drill(DrillName("gum.refill"), steps.Table(), steps.Routines())
	assert.InDelta(t, 180, h.LimitS(refill), 0)
	assert.Zero(t, h.LimitS(h.Case.routine(t)))
}

func (c Case) routine(t *testing.T) exam.Routine {
	t.Helper()
	r, ok := steps.Find(steps.Routines(), c.Routine)
	require.True(t, ok)
	return r
}
