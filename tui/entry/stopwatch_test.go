package entry

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

func refill() exam.Step {
	return exam.Step{
		ID: "gum.refill", Name: "Gum refill time", Kind: exam.KindTime, Unit: notation.Seconds,
		Units: []notation.Unit{notation.Seconds}, Decimals: 1,
		Possible: exam.Span{Low: 0.1, High: 30}, Likely: exam.Span{Low: 0.4, High: 8},
		Presses: "when you release the gum, again when it is pink",
	}
}

// Each time step names its own two moments.
func TestStopwatchSaysWhenToPress(t *testing.T) {
	n := 0
	for _, step := range steps.Table().All() {
		if step.Kind != exam.KindTime {
			continue
		}
		n++
		shown := strings.Join(strings.Fields(screen(New(step, options(&clock{noon()})), 86, 12)), " ")
		assert.Contains(t, shown, "space "+step.Presses+"; or type the seconds", step.ID)
		assert.Equal(t, step.ID == "gum.refill", strings.Contains(shown, "gum"), step.ID)
	}
	assert.Equal(t, 2, n)
}

func TestStopwatchKeepsTheMedianAndEveryTime(t *testing.T) {
	for system, space := range spaces() {
		f := New(refill(), options(&clock{noon()}))
		require.Equal(t, Taken, send(f, "enter"), "nothing taken yet: "+system)
		for i, long := range []int{1500, 2100, 1800} {
			at(f, space, i*10000)
			assert.True(t, f.Busy())
			at(f, space, i*10000+long)
			assert.False(t, f.Busy())
		}
		at(f, space, 40000)
		assert.False(t, f.Busy(), "a fourth time is not taken")
		require.Equal(t, Accepted, send(f, "enter"))
		v := value(t, f)
		assert.Equal(t, []float64{1.5, 2.1, 1.8}, v.TrialsS)
		assert.Equal(t, notation.Quantity{Value: 1.8, Unit: notation.Seconds}, *v.Number)
		send(f, "backspace")
		assert.InDelta(t, 1.8, value(t, f).Number.Value, 1e-12, "mean of the two middle ones")
		assert.Len(t, value(t, f).TrialsS, 2)
	}
}

// A held key: the first repeat after 500 ms, then one every 33 ms. The watch
// runs on from the press, and a later press stops it.
func TestStopwatchRunsThroughAHeldKey(t *testing.T) {
	for system, space := range spaces() {
		f := New(refill(), options(&clock{noon()}))
		at(f, space, 0)
		for ms := 500; ms < 1000; ms += 33 {
			at(f, space, ms)
		}
		assert.True(t, f.Busy(), system)
		at(f, space, 1900)
		assert.False(t, f.Busy())
		assert.Equal(t, []float64{1.9}, value(t, f).TrialsS, system)
		assert.InDelta(t, 1.9, value(t, f).Number.Value, 1e-12)

		f = New(refill(), options(&clock{noon()}))
		at(f, space, 0)
		at(f, space, 1500)
		for ms := 2000; ms < 3000; ms += 33 { // the stop was held
			at(f, space, ms)
		}
		assert.False(t, f.Busy(), system)
		assert.Equal(t, []float64{1.5}, value(t, f).TrialsS, system)
	}
}

func TestStopwatchTakesATypedTime(t *testing.T) {
	f := New(refill(), options(&clock{noon()}))
	letters(f, "1,5")
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, []float64{1.5}, value(t, f).TrialsS)
	f = New(refill(), options(&clock{noon()}))
	letters(f, "300")
	require.Equal(t, Taken, send(f, "enter"), "impossible")
	for _, k := range []string{"u", "x", "w", "h", "t", "left"} {
		assert.Equal(t, Ignored, send(f, k), k)
	}
}

func TestStopwatchAsksAboutTheUnlikelyAndDropsTheImpossible(t *testing.T) {
	f := New(refill(), options(&clock{noon()}))
	at(f, unixSpace, 0)
	require.Equal(t, Taken, send(f, "enter"), "it still runs")
	require.Equal(t, Taken, send(f, "backspace"))
	assert.False(t, f.Busy())
	at(f, unixSpace, 5000)
	at(f, unixSpace, 14000)
	require.Equal(t, Taken, send(f, "enter"), "nine seconds are asked about")
	require.Equal(t, Accepted, send(f, "enter"))
	send(f, "backspace")
	at(f, unixSpace, 20000)
	at(f, unixSpace, 60000)
	_, err := f.Value()
	require.Error(t, err)
	assert.Contains(t, screen(f, 86, 12), "not possible")
}

func TestStopwatchThrowsATimeAwayWhenTheClocksPart(t *testing.T) {
	f := New(refill(), options(&clock{noon()})).(*stopwatch)
	f.between = func(from, to time.Time) (time.Duration, time.Duration) {
		return to.Sub(from), to.Sub(from) + 90*time.Second
	}
	at(f, unixSpace, 0)
	at(f, unixSpace, 1500)
	_, err := f.Value()
	require.Error(t, err)
	assert.Contains(t, screen(f, 86, 12), "discarded")
}

func TestStopwatchGolden(t *testing.T) {
	f := New(refill(), options(&clock{noon()}))
	golden(t, "time-empty", f)
	at(f, unixSpace, 0)
	golden(t, "time-running", f)
	at(f, unixSpace, 1840)
	at(f, unixSpace, 5000)
	at(f, unixSpace, 6430)
	golden(t, "time", f)
}
