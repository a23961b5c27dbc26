package entry

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
)

func temperature() exam.Step {
	return exam.Step{
		ID: "temp.rectal", Name: "Rectal temperature", Kind: exam.KindNumber,
		Unit: notation.Celsius, Units: []notation.Unit{notation.Celsius, notation.Fahrenheit}, Decimals: 1,
		Possible: exam.Span{Low: 30, High: 44}, Likely: exam.Span{Low: 35, High: 42}, SlowSeconds: 60,
	}
}

// t/C = (t/F - 32)/1.8: NIST Special Publication 811 (2008), appendix B.
func TestNumberTakesWhatPeopleType(t *testing.T) {
	for text, want := range map[string]notation.Quantity{
		"38.4": {Value: 38.4, Unit: notation.Celsius}, "38,4": {Value: 38.4, Unit: notation.Celsius},
		"101.2F": {Value: 101.2, Unit: notation.Fahrenheit}, "101.2f": {Value: 101.2, Unit: notation.Fahrenheit},
		"101.2": {Value: 101.2, Unit: notation.Fahrenheit}, "38.4C": {Value: 38.4, Unit: notation.Celsius},
	} {
		f := New(temperature(), options(&clock{noon()}))
		letters(f, text)
		require.Equal(t, Accepted, send(f, "enter"), text)
		v := value(t, f)
		assert.Equal(t, want, *v.Number, text)
		assert.Equal(t, text, v.Typed)
		assert.Equal(t, exam.KindNumber, v.Kind)
	}
}

func TestNumberShowsHowItIsUnderstood(t *testing.T) {
	f := New(temperature(), options(&clock{noon()}))
	letters(f, "38.4")
	assert.Contains(t, screen(f, 34, 9), "38.4 C = 101.1 F")
	send(f, "backspace", "backspace", "backspace", "backspace")
	letters(f, "101,2f")
	assert.Contains(t, screen(f, 34, 9), "101.2 F = 38.4 C")
}

func TestNumberLeavesLettersToTheScreen(t *testing.T) {
	f := New(temperature(), options(&clock{noon()}))
	for _, k := range []string{"u", "x", "w", "h", "o", "r", "tab", "left", "space", "backspace", "?"} {
		assert.Equal(t, Ignored, send(f, k), k)
	}
	assert.Equal(t, Taken, send(f, "t"), "a slow thermometer has a timer")
	step := temperature()
	step.SlowSeconds = 0
	assert.Equal(t, Ignored, send(New(step, options(&clock{noon()})), "t"))
}

func TestNumberRefusesTheImpossibleAndAsksOnceAboutTheUnlikely(t *testing.T) {
	f := New(temperature(), options(&clock{noon()}))
	letters(f, "384")
	assert.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 52, 9), "did you mean 38.4 C")
	_, err := f.Value()
	require.Error(t, err)

	f = New(temperature(), options(&clock{noon()}))
	letters(f, "34.5")
	assert.Equal(t, Taken, send(f, "enter"), "asked once")
	assert.Contains(t, screen(f, 86, 9), "press enter again")
	send(f, "backspace")
	letters(f, "4")
	assert.Equal(t, Taken, send(f, "enter"), "another number is asked about again")
	assert.Equal(t, Accepted, send(f, "enter"))
	assert.InDelta(t, 34.4, value(t, f).Number.Value, 1e-12)
	assert.Equal(t, Taken, send(New(temperature(), options(&clock{noon()})), "enter"), "nothing typed")
}

func TestNumberTimerRunsByDifferenceWhileTyping(t *testing.T) {
	c := &clock{noon()}
	f := New(temperature(), options(c)).(*number)
	_, cmd := f.Press(named("t"))
	require.NotNil(t, cmd)
	assert.True(t, f.Busy())
	tick := tickMsg{of: &f.timer, run: f.timer.run}
	c.at = noon().Add(59900 * time.Millisecond)
	require.NotNil(t, f.Update(tick))
	assert.True(t, f.Busy())
	assert.Contains(t, screen(f, 34, 9), "59 s of 60 s")
	letters(f, "38.4")
	c.at = noon().Add(61 * time.Second) // one tick stands for all that were missed
	require.NotNil(t, f.Update(tick))
	assert.False(t, f.Busy())
	assert.True(t, f.rang)
	assert.Contains(t, screen(f, 86, 9), "no beep")
	send(f, "t")
	assert.Nil(t, f.Update(tick), "a tick of a stopped timer does nothing")
	other := New(temperature(), options(c)).(*number)
	other.Press(named("t"))
	assert.Nil(t, other.Update(tick), "nor does one of another field")
}

// The timer goes by the run's own time: set forward it does not ring early, set back it is not late, and either is said.
func TestNumberTimerUnderAClockThatIsSet(t *testing.T) {
	for _, set := range []time.Duration{time.Hour, -time.Hour} {
		c := examtest.NewClock(noon())
		o := options(&clock{noon()})
		o.Now = c.Now
		f := New(temperature(), o).(*number)
		f.between = c.Between
		press := named("t")
		press.At = c.Now()
		f.Press(press)
		tick := tickMsg{of: &f.timer, run: f.timer.run}
		c.Pass(30 * time.Second)
		f.Update(tick)
		assert.NotContains(t, screen(f, 86, 9), "clock was set")
		c.Set(set)
		f.Update(tick)
		assert.True(t, f.Busy(), "%s", set)
		assert.Contains(t, screen(f, 86, 9), "timer 30 s of 60 s. The laptop slept, or its clock was set: look at the thermometer.")
		c.Pass(30 * time.Second)
		f.Update(tick)
		assert.False(t, f.Busy(), "%s", set)
		assert.Contains(t, screen(f, 86, 9), "timer 60 s: time is up. Still rising, or no beep? Wait. The laptop slept")
	}
}

func TestNumberTakesPastedTextCleaned(t *testing.T) {
	f := New(temperature(), options(&clock{noon()}))
	r, _ := f.Press(paste("\x1b[31m38.4\n C \u202e"))
	assert.Equal(t, Taken, r)
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, notation.Quantity{Value: 38.4, Unit: notation.Celsius}, *value(t, f).Number)
	r, _ = f.Press(paste("x"))
	assert.Equal(t, Taken, r, "pasted letters are no keys")
}

func TestNumberForACorrection(t *testing.T) {
	o := options(&clock{noon()})
	o.Before = &exam.Value{Kind: exam.KindNumber, Number: &notation.Quantity{Value: 101.2, Unit: notation.Fahrenheit}, Typed: "101.2"}
	f := New(temperature(), o)
	assert.Contains(t, screen(f, 34, 9), "now: 101.2 F")
	assert.Equal(t, notation.Quantity{Value: 101.2, Unit: notation.Fahrenheit}, *value(t, f).Number, "prefilled")
	letters(f, "38")
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, notation.Quantity{Value: 38, Unit: notation.Celsius}, *value(t, f).Number, "the first character replaces it")
}

func TestNumberGolden(t *testing.T) {
	f := New(temperature(), options(&clock{noon()}))
	golden(t, "number-empty", f)
	letters(f, "101.2")
	send(f, "t")
	golden(t, "number-typed", f)
	f = New(temperature(), options(&clock{noon()}))
	letters(f, "384")
	send(f, "enter")
	golden(t, "number-refused", f)
}

// The one number that a refusal asks about is taken by one key; of two none is, and without a question the key is the
// screen's.
func TestTheNumberThatWasMeantIsOneKey(t *testing.T) {
	f := New(temperature(), options(&clock{noon()}))
	letters(f, "384")
	require.Equal(t, Ignored, send(f, "y"), "nothing is asked yet")
	require.Equal(t, Taken, send(f, "enter"))
	require.Contains(t, flat(f), "did you mean 38.4 C")
	require.Equal(t, Accepted, send(f, "y"))
	v := value(t, f)
	assert.Equal(t, "38.4 C", v.Number.String())
	assert.Equal(t, Ignored, send(f, "y"), "and counts once")
}

// A grimace is six digits and no enter; held at one digit it is one sign. A correction waits for its enter.
func TestTheGrimaceIsSixKeys(t *testing.T) {
	step, _ := steps.Table().ByID("pain.grimace")
	f := New(step, options(&clock{noon()}))
	for range 5 {
		require.Equal(t, Taken, send(f, "0"))
	}
	require.Equal(t, Accepted, send(f, "1"))
	v := value(t, f)
	assert.Equal(t, 1.0, v.Number.Value)
	o := options(&clock{noon()})
	o.Before = &v
	again := New(step, o)
	assert.Equal(t, Taken, send(again, "2"))
	assert.Equal(t, Accepted, send(again, "enter"))
}
