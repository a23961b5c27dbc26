package rehearse

import (
	"math"
	"math/rand/v2"

	"loosebox/exam"
)

// MostSoundS is the longest sound made at once, in seconds.
const MostSoundS = 600

// farBackS is how long before a stretch a sound may have begun that still sounds in it, and how far after it the next
// event is looked for: the slowest breath that can be written down is one a minute.
const farBackS = 120

// Sound synthesises what the ear gets at a place from one second to another, as samples for WriteWAV: the heart at
// heart.rate, heart.rhythm and heart.murmur, the breath at breath.rate, breath.effort and lung.sounds, the gut at
// gut.sounds. It is nil at any other place. Two stretches end to end are one long one, so that a player can be fed
// piece by piece. No recording was used: pitches are assumed, a little higher than life, so that a small loudspeaker
// carries them.
func (h *Horse) Sound(k exam.Key, from, to float64) []int16 {
	from, to = max(from, 0), min(to, LongestS)
	step, ok := h.table.ByID(k.Step)
	if !ok || !(to > from) {
		return nil
	}
	m := newMix(from, min(to, from+MostSoundS))
	switch step.Listen {
	case exam.ListenHeart:
		h.soundHeart(m, k)
	case exam.ListenBreath:
		h.soundBreath(m, k)
	case exam.ListenGut:
		for _, s := range h.Sounds(k.Site, from-farBackS, to) {
			h.soundGut(m, k.Site, s)
		}
	case exam.ListenNone:
		return nil
	}
	return m.samples()
}

// mix is a stretch of sound that events are added to.
type mix struct {
	from, to float64
	first    int // number of the first sample since the opening
	at       []float64
}

func newMix(from, to float64) *mix {
	first := sampleNo(from)
	return &mix{from: from, to: to, first: first, at: make([]float64, sampleNo(to)-first)}
}

func sampleNo(s float64) int { return int(math.Round(s * SampleRate)) }

// add puts a sound at a second of the horse's time; what lies outside the stretch is left out.
func (m *mix) add(atS float64, sound []float64) {
	start := sampleNo(atS) - m.first
	for i, v := range sound {
		if n := start + i; n >= 0 && n < len(m.at) {
			m.at[n] += v
		}
	}
}

// samples limits gently: a loud sum bends instead of breaking off.
func (m *mix) samples() []int16 {
	out := make([]int16, len(m.at))
	for i, v := range m.at {
		out[i] = int16(math.Round(math.Tanh(v) * 32000))
	}
	return out
}

// tone is a damped sum of pitches that rises within 8 ms.
func tone(lengthS, decayS, loud float64, pitches ...float64) []float64 {
	out := make([]float64, sampleNo(lengthS))
	for i := range out {
		t := float64(i) / SampleRate
		v := 0.0
		for _, hz := range pitches {
			v += math.Sin(2 * math.Pi * hz * t)
		}
		out[i] = loud * v / float64(len(pitches)) * min(1, t/0.008) * math.Exp(-t/decayS)
	}
	return out
}

// hiss is noise around a pitch, shaped by a curve over its length (0 to 1); loud is its standard deviation.
func hiss(r *rand.Rand, lengthS, loud, hz, width float64, shape func(x float64) float64) []float64 {
	out := make([]float64, sampleNo(lengthS))
	one, two := newBandPass(hz, width), newBandPass(hz, width)
	next := func() float64 { return two.next(one.next(r.NormFloat64())) }
	for range 200 { // let the filters settle
		next()
	}
	// Two filters in a row let a band of π/4 of the width of one through, out of half the sample rate.
	loud *= math.Sqrt(SampleRate / 2 / (math.Pi / 4 * width))
	for i := range out {
		out[i] = loud * next() * shape(float64(i)/float64(len(out)))
	}
	return out
}

// bandPass is the band-pass filter of constant peak of Bristow-Johnson's Audio EQ Cookbook.
type bandPass struct{ b0, a1, a2, x1, x2, y1, y2 float64 }

func newBandPass(hz, width float64) *bandPass {
	w := 2 * math.Pi * hz / SampleRate
	alpha := math.Sin(w) * width / (2 * hz)
	return &bandPass{b0: alpha / (1 + alpha), a1: -2 * math.Cos(w) / (1 + alpha), a2: (1 - alpha) / (1 + alpha)}
}

func (f *bandPass) next(x float64) float64 {
	y := f.b0*(x-f.x2) - f.a1*f.y1 - f.a2*f.y2
	f.x2, f.x1 = f.x1, x
	f.y2, f.y1 = f.y1, y
	return y
}

// swell rises and falls like a hill.
func swell(x float64) float64 { return math.Sin(math.Pi * x) }
