package tap

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestBadTimesAreNamed(t *testing.T) {
	for _, c := range []struct {
		times []float64
		want  string
	}{
		{[]float64{0, 1, math.NaN()}, "time 3 is not a number"},
		{[]float64{math.Inf(-1)}, "time 1 is infinite"},
		{[]float64{0, 1.5, 1.4}, "time 3 (1.4 s) is before time 2 (1.5 s)"},
		{[]float64{0, 1.7e12}, "time 2 (1.7e+12) is too large to be seconds"},
		{make([]float64, MaxTaps+1), "100001 times are too many: at most 100000 are evaluated"},
	} {
		r, err := Evaluate(c.times, Options{})
		require.EqualError(t, err, c.want)
		assert.Equal(t, Result{}, r)
	}
	_, err := Evaluate(nil, Options{What: "pulse"})
	require.EqualError(t, err, `cannot count "pulse": only heart and breath are counted`)
	same := evaluated(t, []float64{5, 5, 5, 5}, Options{})
	assert.False(t, same.HasRate)
	assert.Equal(t, 3, same.Held)
}

// every makes taps with these gaps, over and over.
func every(n int, gaps ...float64) []float64 {
	out := []float64{0}
	for i := range n {
		out = append(out, out[i]+gaps[i%len(gaps)])
	}
	return out
}

func TestRegularPauses(t *testing.T) {
	r := evaluated(t, every(24, 1.5, 1.5, 1.5, 2.96), Options{})
	assert.Equal(t, EvenWithPauses, r.Evenness)
	assert.Equal(t, 6, r.Pauses)
	assert.Equal(t, 6, r.Open)
	assert.Equal(t, 4, r.PausesEvery)
	assert.InDelta(t, 2.96, r.LongestPauseS, 1e-9)
	assert.InDelta(t, 2.96/1.5, r.LongestPauseTimes, 1e-9)
	assert.InDelta(t, 60*24/(r.LastS-r.FirstS), r.Rate, 1e-9, "a pause counts one beat")
	assert.InDelta(t, 60*30/(r.LastS-r.FirstS), r.RateIfAllMissed, 1e-9)

	second := evaluated(t, every(20, 1.5, 3), Options{})
	assert.InDelta(t, 1.5, second.UsualGapS, 1e-9, "half of the gaps twice as long as the others")
	assert.Equal(t, 10, second.Pauses)
	assert.Equal(t, 2, second.PausesEvery)

	some := evaluated(t, every(24, 1.5, 1.5, 1.5, 3, 1.5, 1.5, 1.5, 1.5, 1.5, 3, 3), Options{})
	assert.Zero(t, some.PausesEvery)
	missed := evaluated(t, every(24, 1.5, 1.5, 1.5, 3), Options{Rest: TapMissed}.Answered(4, RealPause))
	assert.Equal(t, 1, missed.Pauses)
	assert.Equal(t, 24+5, missed.Beats)
}

func TestEvennessWords(t *testing.T) {
	assert.Equal(t, Even, evaluated(t, every(24, 1.5, 1.52, 1.48), Options{}).Evenness)
	assert.Equal(t, TooFew, evaluated(t, every(9, 1.5, 1.52, 1.48), Options{}).Evenness)
	assert.Equal(t, TooFew, evaluated(t, every(40, 0.5, 0.52, 0.48), Options{}).Evenness, "under 25 s")
	assert.Equal(t, SpeedingAndSlowing, evaluated(t, every(24, 1.5, 1.63, 1.65, 1.63, 1.5, 1.37, 1.35, 1.37), Options{}).Evenness)
	wildly := every(24, 1.5, 0.9, 1.3, 2.1, 1.2, 1.7, 1.05, 1.45, 1.85)
	assert.Equal(t, Irregular, evaluated(t, wildly, Options{}).Evenness)
	assert.Equal(t, TooFew, evaluated(t, wildly, Options{What: Breath}).Evenness, "no rule for breaths")
}

// How often the word for a wave is right. There is no published value; these are this rule's own numbers, kept here so
// that a change shows.
func TestSpeedingAndSlowing(t *testing.T) {
	said := func(r rhythm, window, sigma float64) share {
		var s share
		g := newSim(40, uint64(window))
		for range runsACell {
			res, _ := Evaluate(g.taps(g.beats(r, 60/(36+8*g.Float64()), window), sigma), Options{Sigma: sigma})
			s.add(res.Evenness == SpeedingAndSlowing)
		}
		return s
	}
	for _, c := range []struct {
		name          string
		r             rhythm
		window, sigma float64
		low, high     float64
	}{
		{"wave", wave, 30, 0.04, 0.85, 1},
		{"wave", wave, 60, 0.04, 0.90, 1},
		{"sinus", sinus(0.035, 0.3), 30, 0.04, 0, 0.05},
		{"sinus", sinus(0.035, 0.3), 60, 0.04, 0, 0.01},
		{"sinus", sinus(0.035, 0.3), 30, 0.08, 0, 0.05},
	} {
		s := said(c.r, c.window, c.sigma)
		t.Logf("%s %g s σ %g ms: %s of %d", c.name, c.window, 1000*c.sigma, s.pc(), s.all)
		assert.True(t, s.atLeast(c.low) && s.atMost(c.high), c.name)
	}
}

func TestBothSounds(t *testing.T) {
	taps := every(40, 0.42, 1.10, 0.43, 1.05)
	r := evaluated(t, taps, Options{})
	require.Len(t, r.Questions, 1, "no long gaps are asked about before it is settled")
	q := r.Questions[0]
	assert.Equal(t, SoundsInTurn, q.Kind)
	assert.Equal(t, 0, q.AfterTap)
	assert.InDelta(t, 80, q.RateAsTapped, 1e-9)
	assert.InDelta(t, 40, q.RateIfLess, 1e-9)
	assert.InDelta(t, 80, r.Rate, 1e-9, "never halved by itself")
	assert.Equal(t, TooFew, r.Evenness)
	half := evaluated(t, taps, Options{}.Answered(0, BothSounds))
	assert.InDelta(t, 40, half.Rate, 1e-9)
	assert.Zero(t, half.Open)
	assert.Len(t, half.Removed, 20)
	// Begun on a second sound: the rate still comes from first sounds.
	late := evaluated(t, taps[1:], Options{}.Answered(0, BothSounds))
	assert.InDelta(t, 40, late.Rate, 0.1)
	one := evaluated(t, taps, Options{}.Answered(0, OneSound))
	assert.InDelta(t, 80, one.Rate, 1e-9)

	// Where both gaps are alike only the usual rate can raise the question.
	alike := every(40, 0.5, 0.51, 0.49)
	assert.Empty(t, evaluated(t, alike, Options{}).Questions)
	asked := evaluated(t, alike, Options{Usual: 60})
	require.Len(t, asked.Questions, 1)
	assert.InDelta(t, 60, asked.Questions[0].RateIfLess, 0.5)
	assert.InDelta(t, 60, evaluated(t, alike, Options{Usual: 60}.Answered(0, BothSounds)).Rate, 0.5)
}

// The clock starts on a beat, that beat is zero, and a beat on the bell counts: 16 beats in 15 s fit any rate from 64
// to just under 68 per minute (FEI Endurance Rules 2019, art. 821.2.3, for the way of counting).
func TestWindows(t *testing.T) {
	at := func(rate float64) Window {
		return evaluated(t, every(20, 60/rate), Options{}).Windows[0]
	}
	assert.Equal(t, Window{15, 16, 64}, at(64.0001))
	assert.Equal(t, Window{15, 16, 64}, at(67.999))
	assert.Equal(t, Window{15, 17, 68}, at(68.0001))
	assert.Equal(t, Window{15, 10, 40}, evaluated(t, every(11, 1.5), Options{}).Windows[0], "a beat on the bell counts")
	assert.Empty(t, evaluated(t, every(9, 1.5), Options{}).Windows, "13.5 s hold no window")
	w := evaluated(t, every(44, 1.4), Options{}).Windows
	assert.Equal(t, []Window{{15, 10, 40}, {30, 21, 42}, {60, 42, 42}}, w)
	gap := every(12, 1.5, 1.5, 1.5, 3)
	assert.Equal(t, 8, evaluated(t, gap, Options{}).Windows[0].Counted)
	assert.Equal(t, 10, evaluated(t, gap, Options{Rest: TapMissed}).Windows[0].Counted, "beats put back are counted")
}

func TestFirm(t *testing.T) {
	steady := []float64{1.5, 1.53, 1.47}
	assert.False(t, evaluated(t, every(9, steady...), Options{}).Firm, "13.5 s")
	assert.True(t, evaluated(t, every(11, steady...), Options{}).Firm)
	assert.False(t, evaluated(t, every(11, steady...), Options{Wanted: 0.01}).Firm)
	assert.False(t, evaluated(t, every(9, 4, 4.1, 3.9), Options{What: Breath}).Firm, "36 s, 9 breaths")
	assert.True(t, evaluated(t, every(10, 4, 4.1, 3.9), Options{What: Breath}).Firm)
	assert.True(t, evaluated(t, every(8, 8, 8.1, 7.9), Options{What: Breath}).Firm, "64 s, 8 breaths")
	r := evaluated(t, every(20, steady...), Options{Sigma: 0.04})
	assert.True(t, r.HasPersonal)
	assert.InDelta(t, 1.96*math.Sqrt2*0.04*r.Rate*r.Rate/(60*20), r.Personal, 1e-9)
}

func TestAgainst(t *testing.T) {
	assert.Equal(t, Borderline, Against(43.8, 0.5, 44))
	assert.Equal(t, Below, Against(43.4, 0.5, 44))
	assert.Equal(t, Above, Against(44.6, 0.5, 44))
	assert.Equal(t, Borderline, Against(44, 0, 44))
	assert.Equal(t, Borderline, evaluated(t, []float64{0, 1.5}, Options{}).Against(60), "two taps have no interval")
}
