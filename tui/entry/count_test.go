package entry

import (
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/tap"
)

func heartRate() exam.Step {
	return exam.Step{
		ID: "heart.rate", Name: "Heart rate", Kind: exam.KindCount, Heard: "heart", Decimals: 1,
		Unit: notation.PerMinute, Units: []notation.Unit{notation.PerMinute},
		Possible: exam.Span{Low: 5, High: 300}, Likely: exam.Span{Low: 20, High: 170},
	}
}

func breathRate() exam.Step {
	s := heartRate()
	s.ID, s.Name, s.Heard, s.Likely = "breath.rate", "Breathing rate", "breath", exam.Span{Low: 4, High: 100}
	return s
}

// taps presses space at every time in ms.
func taps(f Widget, ms ...int) {
	for _, m := range ms {
		at(f, unixSpace, m)
	}
}

// every is n times so many ms apart, from a start.
func every(from, gap, n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = from + i*gap
	}
	return out
}

// The rate is 60·n/(t_n − t_0) after two lead-in taps: counting.md, section 0.1
// of the facts, and issue 3, point 1.
func TestCountMetronomeIsExact(t *testing.T) {
	for system, space := range spaces() {
		f := New(heartRate(), options(&clock{noon()}))
		for _, ms := range every(777, 1500, 13) {
			at(f, space, ms)
		}
		require.True(t, f.Busy())
		require.Equal(t, Accepted, send(f, "enter"), system)
		assert.False(t, f.Busy(), "an accepted count is no longer in the way")
		v := value(t, f)
		assert.InDelta(t, 40, v.Number.Value, 1e-9)
		assert.Equal(t, notation.PerMinute, v.Number.Unit)
		assert.Equal(t, exam.CountTapped, v.Count.Method)
		assert.Len(t, v.Count.TapsS, 13)
		assert.InDelta(t, 0, v.Count.TapsS[0], 0, "seconds from the first press")
		assert.Equal(t, 2, v.Count.LeadIn)
		assert.Equal(t, "40 /min", v.Show(heartRate()))
		assert.Contains(t, screen(f, 34, 11), "steady: within 1 /min")
		assert.Contains(t, screen(f, 34, 11), "± under 0.1 /min, this count", "never a plus or minus of nothing")
	}
}

// Golden vector G1 of counting.md, section 3.5: rate 39.944078, half-width
// 0.256169 (checked there in R and with gonum).
func TestCountGoldenVector(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()}))
	taps(f, 0, 1500)
	for _, ms := range []int{0, 1523, 2981, 4530, 5988, 7512, 9041, 10470, 12013, 13489, 15021} {
		taps(f, 3000+ms)
	}
	require.Equal(t, Accepted, send(f, "enter"))
	v := value(t, f)
	assert.InDelta(t, 39.944078, v.Number.Value, 1e-6)
	assert.InDelta(t, 0.256169, v.Count.HalfWidth, 1e-6)
	again, err := tap.Evaluate(v.Count.TapsS, tap.Options{What: tap.Heart, LeadIn: v.Count.LeadIn})
	require.NoError(t, err)
	assert.InDelta(t, v.Number.Value, again.Rate, 1e-12, "what is stored gives the same rate")
}

// A held key: the first repeat after 500 ms, then one every 33 ms.
func TestCountHeldKeyCountsOnce(t *testing.T) {
	for system, space := range spaces() {
		f := New(heartRate(), options(&clock{noon()})).(*count)
		at(f, space, 0)
		for ms := 500; ms < 3000; ms += 33 {
			at(f, space, ms)
		}
		assert.Equal(t, 1, f.taps.Taps(), system)
		assert.Contains(t, screen(f, 52, 12), "a held key counts once: 76 presses left out")
		for _, ms := range every(4500, 1500, 12) {
			at(f, space, ms)
		}
		assert.InDelta(t, 40, f.result.Rate, 1e-9)
	}
}

func TestCountLeadInAndTakeBack(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	assert.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, flat(f), "2 warm-up taps and two more are needed, 0 so far")
	taps(f, 0)
	assert.Contains(t, screen(f, 34, 11), "warm-up 1 of 2")
	taps(f, 1500, 3000)
	assert.False(t, f.result.HasRate, "no rate from one tap")
	taps(f, 4500)
	assert.True(t, f.result.HasRate)
	assert.NotContains(t, screen(f, 34, 11), "this count", "no half-width from two")
	send(f, "backspace")
	assert.False(t, f.result.HasRate)
	send(f, "backspace", "backspace", "backspace")
	assert.False(t, f.Busy())
	assert.Equal(t, Ignored, send(f, "backspace"))
	taps(f, 60000)
	assert.Equal(t, []float64{0}, f.taps.Raw(), "the next press begins anew")
}

func TestCountSaysOnceThatItIsShort(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()}))
	taps(f, every(0, 1500, 8)...)
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 86, 12), "only 8 s: tap a heart for at least 15 s")
	taps(f, 12000)
	require.Equal(t, Taken, send(f, "enter"), "another tap, another warning")
	require.Equal(t, Accepted, send(f, "enter"))

	f = New(breathRate(), options(&clock{noon()}))
	taps(f, every(0, 4000, 8)...)
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 86, 12), "60 s or 10 breaths")
	taps(f, every(32000, 4000, 5)...)
	require.Equal(t, Accepted, send(f, "enter"), "ten breaths")
	assert.InDelta(t, 15, value(t, f).Number.Value, 1e-9)
}

// G3 of counting.md, section 3.5: one tap missed and one double. 39.973351 if
// the tap was missed, 60·9/15.010 = 35.976 if the heart paused.
func g3(t *testing.T) *count {
	t.Helper()
	f := New(heartRate(), options(&clock{noon()})).(*count)
	taps(f, 0, 1500)
	for _, ms := range []int{0, 1512, 3020, 6011, 7498, 7640, 9013, 10521, 12004, 13488, 15010} {
		taps(f, 3000+ms)
	}
	return f
}

func TestCountAsksAboutALongGap(t *testing.T) {
	f := g3(t)
	assert.Contains(t, screen(f, 52, 12), "1 long gap: asked about at enter")
	_, err := f.Value()
	require.Error(t, err, "nothing is repaired silently")
	require.Equal(t, Taken, send(f, "enter"))
	text := screen(f, 52, 12)
	assert.Contains(t, text, "1 a tap was missed: 40.0 /min")
	assert.Contains(t, text, "2 the heart paused: 36.0 /min")
	golden(t, "count-gap", f)
	require.Equal(t, Taken, send(f, "enter"), "no answer is chosen beforehand")
	require.Equal(t, Accepted, send(f, "1", "enter"))
	v := value(t, f)
	assert.InDelta(t, 39.973351, v.Number.Value, 1e-6)
	assert.Equal(t, []exam.GapAnswer{{AfterTap: 5, Missed: true}}, v.Count.Answers)
	assert.Equal(t, 1, v.Count.Held, "the double fell into the dead time")

	f = g3(t)
	require.Equal(t, Accepted, send(f, "enter", "2", "enter"))
	assert.InDelta(t, 60*9/15.010, value(t, f).Number.Value, 1e-9)
	assert.Equal(t, []exam.GapAnswer{{AfterTap: 5}}, value(t, f).Count.Answers)
}

func TestCountQuestionCanBeLeft(t *testing.T) {
	f := g3(t)
	send(f, "enter", "space")
	assert.Equal(t, 12, f.taps.Taps(), "no tap while a question is open")
	assert.Contains(t, screen(f, 86, 12), "answer the question first")
	send(f, "backspace")
	assert.Nil(t, f.asking)
	taps(f, 19500)
	assert.Equal(t, 13, f.taps.Taps())
}

func TestCountAnswersManyGapsAtOnce(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	ms := 0
	for i := range 30 {
		taps(f, ms)
		ms += 1500
		if i > 3 && i%5 == 0 {
			ms += 1500
		}
	}
	require.Greater(t, f.result.Open, 2)
	n := f.result.Open
	require.Equal(t, Accepted, send(f, "enter", "3", "enter"))
	assert.InDelta(t, 40, value(t, f).Number.Value, 1e-9)
	assert.Len(t, value(t, f).Count.Answers, n)
}

// An even heart of which both sounds are tapped: 0.42 s and 1.08 s in turn
// (about the length of a systole at rest: from memory).
func TestCountAsksWhetherBothSoundsWereTapped(t *testing.T) {
	tapBoth := func() *count {
		f := New(heartRate(), options(&clock{noon()})).(*count)
		for i := range 20 {
			taps(f, i*1500, i*1500+420)
		}
		return f
	}
	f := tapBoth()
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 86, 12), "Were both sounds of each beat tapped?")
	golden(t, "count-sounds", f)
	require.Equal(t, Taken, send(f, "1", "enter"))
	assert.False(t, f.Busy(), "count again")
	f = tapBoth()
	assert.NotEqual(t, Ignored, send(f, "enter", "2", "enter"))
	for range 40 { // whatever else is asked
		if f.asking == nil {
			break
		}
		send(f, "2", "enter")
	}
	send(f, "enter")
	assert.True(t, value(t, f).Count.OneSound)
}

// The machine slept: its monotonic clock stood still for 20 s.
func TestCountIsThrownAwayWhenTheClocksPart(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	f.between = func(from, to time.Time) (time.Duration, time.Duration) {
		d := to.Sub(from)
		if d > 8*time.Second {
			return d, d + 20*time.Second
		}
		return d, d
	}
	taps(f, every(0, 1500, 7)...)
	assert.Zero(t, f.taps.Taps())
	assert.Contains(t, flat(f), "discarded")
	assert.False(t, f.Busy())
	taps(f, 10500, 12000)
	assert.Contains(t, flat(f), "discarded", "a person who taps on sees why the count began anew")
	taps(f, 13500)
	assert.NotContains(t, flat(f), "discarded")
}

func TestCountAgainAsksForASecondPress(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	assert.Equal(t, Ignored, send(f, "n"))
	taps(f, 0, 1500, 3000)
	send(f, "n")
	assert.Equal(t, 3, f.taps.Taps())
	taps(f, 4500)
	send(f, "n")
	assert.Equal(t, 4, f.taps.Taps(), "another key in between keeps the count")
	send(f, "n")
	assert.Zero(t, f.taps.Taps())
}

func TestCountNamesNoRhythm(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()})).(*count)
	r := rand.New(rand.NewPCG(7, 7))
	ms := 0
	for range 26 {
		taps(f, ms)
		ms += 700 + r.IntN(1500)
	}
	require.Equal(t, tap.Irregular, f.result.Evenness)
	assert.Contains(t, flat(f), "irregular, no repeating pattern: count 60 s and tell the veterinarian. Only an ECG names a rhythm")
	golden(t, "count-irregular", f)
	for range 40 {
		send(f, "enter")
		if f.asking == nil {
			break
		}
		send(f, "2")
	}
	assert.Contains(t, flat(f), "irregular, no repeating pattern: tap for 60")
	require.Equal(t, Accepted, send(f, "enter"))
	assert.Equal(t, tap.Irregular, value(t, f).Count.Evenness)
}

// A quick heart under a finger of unknown steadiness: nothing is said of its evenness, and what to do instead.
func TestCountTooFastToJudge(t *testing.T) {
	gaps := []int{500, 380, 620, 700, 360, 580, 440, 660, 400}
	tapped := func(sigma float64) *count {
		o := options(&clock{noon()})
		o.Person, o.Settings.Scatter = "Ada", map[string]exam.Scatter{"Ada": {SigmaS: sigma}}
		f := New(heartRate(), o).(*count)
		ms := 0
		for i := range 62 {
			taps(f, ms)
			ms += gaps[i%len(gaps)]
		}
		return f
	}
	f := tapped(0)
	assert.Contains(t, flat(f), "Too fast to judge evenness by tapping; listen a full minute.")
	golden(t, "count-too-fast", f)
	for range 60 {
		send(f, "enter")
		if f.asking == nil {
			break
		}
		send(f, "2")
	}
	v := value(t, f)
	assert.Equal(t, tap.TooFast, v.Count.Evenness)
	assert.Equal(t, "evenness too fast to judge by tapping", v.Count.EvennessWords(), "behind a rate, fast alone would be of the rate")
	assert.Equal(t, tap.Irregular, tapped(0.03).result.Evenness, "a finger measured as steady does not do that")
}

func TestCountRefusesAnImpossibleRateAndAsksAboutAnUnlikelyOne(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()}))
	taps(f, every(0, 190, 90)...)
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 86, 14), "not possible for heart rate")
	_, err := f.Value()
	require.Error(t, err)
	f = New(heartRate(), options(&clock{noon()}))
	taps(f, every(0, 4000, 10)...)
	require.Equal(t, Taken, send(f, "enter"))
	assert.Contains(t, screen(f, 86, 14), "15 /min is unlikely")
	require.Equal(t, Accepted, send(f, "enter"))
}

func TestCountLeavesTheScreenItsLetters(t *testing.T) {
	f := New(heartRate(), options(&clock{noon()}))
	for _, k := range []string{"u", "x", "w", "h", "o", "r", "e", "a", "s", "left", "tab"} {
		assert.Equal(t, Ignored, send(f, k), k)
	}
	assert.Equal(t, Taken, send(f, "4"))
	assert.Contains(t, screen(f, 86, 12), "space taps; press t to type a number")
	r, _ := f.Press(paste(" "))
	assert.Equal(t, Ignored, r, "a pasted space is no tap")
	assert.False(t, f.Busy())
}

func TestCountGolden(t *testing.T) {
	o := options(&clock{noon()})
	o.Person, o.Settings.Scatter = "Ada", map[string]exam.Scatter{"Ada": {SigmaS: 0.035}}
	f := New(heartRate(), o)
	golden(t, "count-empty", f)
	taps(f, 0)
	golden(t, "count-lead-in", f)
	taps(f, 1500)
	for _, ms := range []int{0, 1523, 2981, 4530, 5988, 7512, 9041, 10470} {
		taps(f, 3000+ms)
	}
	golden(t, "count-firming", f)
	taps(f, 15013, 16489, 18021)
	golden(t, "count-firm", f)
	golden(t, "count-breath-empty", New(breathRate(), o))
}
