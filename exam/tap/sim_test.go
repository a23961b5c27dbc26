package tap

import (
	"math"
	"math/rand/v2"
	"slices"
)

// The generator of the simulations. "Assumed" numbers have no published value for horses.
type sim struct{ *rand.Rand }

func newSim(a, b uint64) sim { return sim{rand.New(rand.NewPCG(a, b))} }

// rhythm makes the beats from 0 on to beyond end at a mean period of about t seconds.
type rhythm func(g sim, t, end float64) []float64

// beats is a train that starts before 0 and is cut to [0, end), so that the first beat is uniform in the first gap.
func (g sim) beats(r rhythm, t, end float64) []float64 {
	skip := 4*t + g.Float64()*12*t // so that patterns begin anywhere
	var out []float64
	for _, b := range r(g, t, end+skip) {
		if b >= skip && b < skip+end {
			out = append(out, b-skip)
		}
	}
	return out
}

// deviations is an AR(1) series of SD cv·t with lag-1 correlation phi.
func (g sim) deviations(cv, phi, t float64) func() float64 {
	x := g.NormFloat64()
	return func() float64 {
		x = phi*x + math.Sqrt(1-phi*phi)*g.NormFloat64()
		return cv * t * x
	}
}

// sinus: AR(1) around t. Horses at rest: SD of gaps 48 ms of about 1.6 s (16 Warmbloods, orbi.uliege.be/handle/2268/293159);
// phi 0.3 from a human series.
func sinus(cv, phi float64) rhythm {
	return func(g sim, t, end float64) []float64 {
		dev, out := g.deviations(cv, phi, t), []float64{0}
		for b := 0.0; b < end; {
			b += max(0.2*t, t+dev())
			out = append(out, b)
		}
		return out
	}
}

// wave: sinus with a 10 % sine of 4 to 8 beats. Successive gaps of healthy horses differ by up to 20 % (Flethøj et al. 2016).
func wave(g sim, t, end float64) []float64 {
	dev, out := g.deviations(0.035, 0.3, t), []float64{0}
	turn, at := 2*math.Pi/(4+4*g.Float64()), g.Float64()*2*math.Pi
	for b := 0.0; b < end; {
		at += turn
		b += t + dev() + 0.1*t*math.Sin(at)
		out = append(out, b)
	}
	return out
}

// dropped: sinus in which some beats do not come; the pause is 0.04 s short of two gaps (assumed).
func dropped(missing func(g sim) func(i int) bool) rhythm {
	return func(g sim, t, end float64) []float64 {
		dev, out, gone := g.deviations(0.035, 0.3, t), []float64{0}, missing(g)
		before := false
		for b, i := 0.0, 1; b < end; i++ {
			d := t + dev()
			if !before && gone(i) {
				b, before = b+2*d-0.04, true
				i++
			} else {
				b, before = b+d, false
			}
			out = append(out, b)
		}
		return out
	}
}

// blockEvery drops every k-th beat, k from 3 to 6 by recording.
func blockEvery(g sim) func(i int) bool {
	k := 3 + g.IntN(4)
	return func(i int) bool { return i%k == 0 }
}

// blockSometimes drops each beat with probability 0.06 (assumed).
func blockSometimes(g sim) func(i int) bool {
	return func(int) bool { return g.Float64() < 0.06 }
}

// premature: one beat early in the stretch that is listened to, with or without a pause after it (assumed).
func premature(pause bool) rhythm {
	return func(g sim, t, end float64) []float64 {
		out := sinus(0.035, 0.3)(g, t, end)
		i := len(out)/2 + g.IntN(max(1, len(out)/4))
		if pause {
			out[i] -= 0.4 * t
			return out
		}
		d := (0.35 + 0.05*g.Float64()) * t
		for j := i; j < len(out); j++ {
			out[j] -= d
		}
		return out
	}
}

// wild: independent gamma gaps, CV 0.18–0.32, none under 0.35 s. Human CV in fibrillation 0.24 (from memory); no value
// for horses was found.
func wild(g sim, t, end float64) []float64 {
	cv := 0.18 + 0.14*g.Float64()
	shape, out := 1/(cv*cv), []float64{0}
	for b := 0.0; b < end; {
		b += max(0.35, t*g.gamma(shape)/shape)
		out = append(out, b)
	}
	return out
}

// gamma by Marsaglia & Tsang's method for shape ≥ 1.
func (g sim) gamma(shape float64) float64 {
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := g.NormFloat64()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if math.Log(1-g.Float64()) < x*x/2+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}

// fingerS is the least time between two presses meant as two: fastest tapping is five to seven a second (from memory).
// The recipe of the simulations has no such limit; without it 80 ms of scatter on gaps of 0.35 s makes presses that no finger
// makes, in which order and number of the beats are lost and the dead time rightly sees one press.
const fingerS = 0.2

// taps adds what the finger does: a constant lead of 0.03 s and scatter s.
func (g sim) taps(beats []float64, s float64) []float64 {
	out := make([]float64, len(beats))
	for i, b := range beats {
		out[i] = b - 0.03 + s*g.NormFloat64()
		for try := 0; i > 0 && out[i] < out[i-1]+fingerS; try++ {
			if try == 20 {
				out[i] = out[i-1] + fingerS
				break
			}
			out[i] = b - 0.03 + s*g.NormFloat64()
		}
	}
	return out
}

// clocked rounds taps to what a keyboard polled every 8 ms and a clock of 1 ms give.
func (g sim) clocked(taps []float64) []float64 {
	for i := range taps {
		taps[i] = math.Round((taps[i]+0.008*g.Float64())*1000) / 1000
		if i > 0 {
			taps[i] = max(taps[i], taps[i-1])
		}
	}
	return taps
}

// near draws the true rate from nominal ± 2 per minute: rates that divide the window make counting look perfect.
func (g sim) near(rate float64) float64 { return rate - 2 + 4*g.Float64() }

// straying adds what the finger does where one tap in twenty has a scatter of 150 ms and the others s. Where finger is set
// no two presses are closer than a finger can; else they may even change places, and come out in the order of time.
func (g sim) straying(beats []float64, s float64, finger bool) []float64 {
	out := make([]float64, len(beats))
	for i, b := range beats {
		for range 200 {
			out[i] = b - 0.03 + g.strayed(s)
			if !finger || i == 0 || out[i] >= out[i-1]+fingerS {
				break
			}
		}
	}
	slices.Sort(out)
	return g.clocked(out)
}

const (
	strayShare = 0.05
	strayS     = 0.15
)

func (g sim) strayed(s float64) float64 {
	if g.Float64() < strayShare {
		s = strayS
	}
	return s * g.NormFloat64()
}
