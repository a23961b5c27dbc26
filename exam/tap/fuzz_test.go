package tap

import (
	"encoding/binary"
	"math"
	"testing"
)

// FuzzEvaluate feeds any numbers at all: no panic, and no number that the times do not hold.
func FuzzEvaluate(f *testing.F) {
	bytes := func(times ...float64) []byte {
		var b []byte
		for _, t := range times {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(t))
		}
		return b
	}
	f.Add(bytes(goldenG1()...), uint8(0))
	f.Add(bytes(goldenG3()...), uint8(1))
	f.Add(bytes(0, 0.42, 1.5, 1.92, 3, 3.42, 4.5, 4.92, 6, 6.42), uint8(32))
	f.Add(bytes(1, 1, 1, 1), uint8(2))
	f.Add(bytes(3, 2, 1), uint8(4))
	f.Add(bytes(math.NaN(), math.Inf(1), -1e300, 5e-324), uint8(8))
	f.Add(bytes(-1e10, 0, 1e10), uint8(16))
	f.Add(bytes(0, 1, 2, 3, 4, 1e10), uint8(64))
	f.Fuzz(func(t *testing.T, data []byte, how uint8) {
		times := make([]float64, len(data)/8)
		for i := range times {
			times[i] = math.Float64frombits(binary.LittleEndian.Uint64(data[8*i:]))
		}
		o := Options{What: Heart, LeadIn: int(how & 3), Sigma: float64(how>>2&1) * 0.04, Usual: float64(how>>3&1) * 40}
		if how>>4&1 == 1 {
			o.What = Breath
		}
		if how>>5&1 == 1 {
			o = o.Answered(0, BothSounds).Answered(3, ExtraTap).Answered(4, TapMissed)
		}
		if how>>6&1 == 1 {
			o.Rest = TapMissed
		}
		c := NewCounter(o)
		for _, at := range times {
			c.Press(at)
		}
		sound(t, c.Result())
		r, err := Evaluate(times, o)
		if err != nil {
			if r.HasRate || r.Taps != 0 {
				t.Fatalf("a number beside the error %v", err)
			}
			return
		}
		if r.Taps != len(times) {
			t.Fatalf("%d of %d taps", r.Taps, len(times))
		}
		sound(t, r)
	})
}

// sound checks what holds for every result.
func sound(t *testing.T, r Result) {
	t.Helper()
	finite := func(what string, xs ...float64) {
		for _, x := range xs {
			if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
				t.Fatalf("%s is %g: %+v", what, x, r)
			}
		}
	}
	finite("rate", r.Rate, r.HalfWidth, r.Personal, r.UsualGapS, r.RateIfAllMissed, r.RateIfAllPause)
	finite("pause", r.LongestPauseS, r.LongestPauseTimes)
	if r.Used+r.LeadIn+len(r.Removed) != r.Taps {
		t.Fatalf("taps do not add up: %+v", r)
	}
	if r.Used < 2 && r.HasRate || r.Used < 3 && r.HasHalfWidth || !r.HasRate && r.Rate != 0 || !r.HasHalfWidth && r.HalfWidth != 0 {
		t.Fatalf("a number from too little: %+v", r)
	}
	if r.HasRate && math.Abs(r.Rate*(r.LastS-r.FirstS)/60-float64(r.Beats)) > 1e-6*float64(r.Beats) {
		t.Fatalf("the rate is not beats over time: %+v", r)
	}
	for _, q := range r.Questions {
		finite(q.Kind, q.LengthS, q.TimesUsual, q.RateIfMissed, q.RateIfPause, q.RateIfLess, q.RateAsTapped)
	}
	for _, g := range r.Strip {
		finite("gap", g)
	}
	for _, w := range r.Windows {
		if float64(w.Seconds) > r.LastS-r.FirstS+1e-6 || w.Counted < 0 {
			t.Fatalf("window %+v: %+v", w, r)
		}
	}
	switch r.Evenness {
	case Even, EvenWithPauses, SpeedingAndSlowing, Irregular, TooFew, TooFast:
	default:
		t.Fatalf("evenness %q", r.Evenness)
	}
}
