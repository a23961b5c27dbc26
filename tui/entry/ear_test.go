package entry

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// counting starts a window by ear and runs it to its end.
func counting(t *testing.T, step exam.Step, window string, space int) (*count, *clock) {
	t.Helper()
	c := &clock{noon()}
	f := New(step, options(c)).(*count)
	require.Equal(t, Taken, send(f, "t", window, "enter"))
	_, cmd := f.Press(spaces()[[]string{"unix", "windows"}[space]](noon()))
	require.NotNil(t, cmd, "ticks and the bell")
	require.True(t, f.Busy())
	c.at = noon().Add(time.Duration(f.ear.window)*time.Second - time.Millisecond)
	f.Update(tickMsg{of: &f.ear.timer, run: f.ear.timer.run})
	require.Equal(t, earRun, f.ear.stage, "not before its time")
	c.at = noon().Add(time.Duration(f.ear.window) * time.Second)
	bell := f.Update(endMsg{of: &f.ear.timer, run: f.ear.timer.run})
	require.NotNil(t, bell)
	require.Equal(t, rangMsg{}, bell(), "the bell")
	require.Equal(t, earType, f.ear.stage)
	return f, c
}

// 16 beats in 15 s, the first being zero, is written down as 64 and fits any
// rate from 64 to just under 68: FEI Endurance Rules 2019, art. 821.2.3, and
// counting.md, section 1.2.
func TestEarCountsAWindow(t *testing.T) {
	for space := range 2 {
		f, _ := counting(t, heartRate(), "1", space)
		letters(f, "16")
		assert.Contains(t, screen(f, 86, 12), "= 64 /min, in steps of 4 a minute: 64 or more and under 68")
		require.Equal(t, Accepted, send(f, "enter"))
		v := value(t, f)
		assert.InDelta(t, 64, v.Number.Value, 0)
		assert.Equal(t, &exam.Count{Method: exam.CountByEar, WindowS: 15, Counted: 16}, v.Count)
		assert.Equal(t, "16", v.Typed)
	}
}

func TestEarSaysWhenTheWindowIsTooShort(t *testing.T) {
	f, _ := counting(t, heartRate(), "1", 0)
	letters(f, "17")
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 86, 12), "more than 16 beats in 15 s: go on to 30 s (FEI Endurance Rules 2019, art. 821.2.3")
	require.Equal(t, Accepted, send(f, "enter"))
	f, _ = counting(t, heartRate(), "2", 0)
	letters(f, "33")
	require.Equal(t, Taken, send(f, "enter"))
	f, _ = counting(t, heartRate(), "3", 0)
	letters(f, "44")
	require.Equal(t, Accepted, send(f, "enter"))
	f, _ = counting(t, breathRate(), "2", 0)
	letters(f, "6")
	require.Equal(t, Taken, send(f, "enter"), "fewer than ten breaths in 30 s")
	f, _ = counting(t, heartRate(), "1", 0)
	require.Equal(t, Taken, send(f, "enter"), "nothing typed")
	letters(f, "999")
	require.Equal(t, Taken, send(f, "enter"))
	require.Equal(t, Taken, send(f, "enter"), "the impossible stays refused")
}

func TestEarSettlesTheFirstBeatInWords(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	send(f, "t", "2", "enter")
	assert.Contains(t, screen(f, 86, 12), "That beat is zero; the next one is one.")
	send(f, "backspace")
	assert.Equal(t, earChoose, f.ear.stage)
	send(f, "t")
	assert.Nil(t, f.ear, "back to tapping")
	f = New(breathRate(), options(&clock{noon()})).(*count)
	send(f, "t", "3", "enter")
	assert.Contains(t, screen(f, 86, 12), "That breath is zero")
}

func TestEarIgnoresTapsAndDigitsWhileItRuns(t *testing.T) {
	c := &clock{noon()}
	f := New(heartRate(), options(c)).(*count)
	send(f, "t", "1", "enter", "space")
	run := f.ear.timer.run
	send(f, "space", "space", "7", "t")
	assert.Equal(t, earRun, f.ear.stage)
	assert.Contains(t, screen(f, 86, 12), "typed after the bell")
	send(f, "backspace")
	assert.False(t, f.Busy())
	assert.Nil(t, f.Update(endMsg{of: &f.ear.timer, run: run}), "the bell of a stopped window does not ring")
	assert.Equal(t, earReady, f.ear.stage)
	for _, k := range []string{"u", "x", "w", "h", "o", "r", "left"} {
		assert.Equal(t, Ignored, send(f, k), k)
	}
}

func TestEarIsThrownAwayWhenTheClocksPart(t *testing.T) {
	c := &clock{noon()}
	f := New(heartRate(), options(c)).(*count)
	f.between = func(from, to time.Time) (time.Duration, time.Duration) { return to.Sub(from), to.Sub(from) + time.Hour }
	send(f, "t", "1", "enter", "space")
	f.Update(tickMsg{of: &f.ear.timer, run: f.ear.timer.run})
	assert.Equal(t, earReady, f.ear.stage)
	assert.Contains(t, screen(f, 86, 12), "discarded")
}

func TestEarTakesARateReadElsewhere(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	send(f, "t", "4", "enter")
	letters(f, "44")
	require.Equal(t, Accepted, send(f, "enter"))
	v := value(t, f)
	assert.Equal(t, exam.CountTyped, v.Count.Method)
	assert.Equal(t, notation.Quantity{Value: 44, Unit: notation.PerMinute}, *v.Number)
	assert.Equal(t, exam.KindCount, v.Kind)
}

func TestEarGolden(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	send(f, "t", "2")
	golden(t, "ear-choose", f)
	send(f, "enter")
	golden(t, "ear-ready", f)
	f, c := counting(t, heartRate(), "1", 0)
	letters(f, "17")
	send(f, "enter")
	golden(t, "ear-typed", f)
	send(f, "backspace", "backspace", "backspace", "space")
	c.at = noon().Add(7 * time.Second)
	f.Update(tickMsg{of: &f.ear.timer, run: f.ear.timer.run})
	golden(t, "ear-running", f)
}
