package rehearse

import (
	"math"
	"math/rand/v2"
)

// Numbers of the heart. CV, correlation, wave and block: the generator of this project's counting tests, which leans on
// the standard deviation of resting gaps, 47.8 ± 22.3 ms in 16 Warmbloods (orbi.uliege.be/handle/2268/293159), the
// largest successive changes of 12-22 % (Flethøj et al. 2016, BMC Vet Res 12:266), and gaps after every 3rd to 5th beat
// (PROV1). No value for horses was found for an irregular heart; the human one, about 0.24, is from memory.
const (
	beatCV     = 0.035
	beatAlike  = 0.3  // lag-1 correlation of gaps
	waveDepth  = 0.10 // of the gap
	blockShort = 0.04 // s by which a pause is short of two gaps (assumed)
	wildLow    = 0.18 // CV of an irregular heart, from
	wildHigh   = 0.32 // and to
	wildFloorS = 0.35
	earlyOdds  = 0.05 // of a beat to come early (assumed)
	earlyLow   = 0.60 // of its gap, from
	earlyHigh  = 0.65 // and to
)

// heart makes the beats: perMin is what is heard in the long run, dropped beats not counted; every says after how many
// places a beat is dropped; wave is the length of a wave in beats.
func heart(r *rand.Rand, rhythm string, perMin float64, every int, wave float64) *train {
	t := 60 / perMin
	var gap func() float64
	switch rhythm {
	case "pauses":
		k := float64(every)
		t = (float64((k-1)*60)/perMin + blockShort) / k
		gap = dropped(r, t, every)
	case "waves":
		gap = waves(r, t, wave)
	case "irregular":
		gap = wild(r, t)
	case "early":
		gap = early(r, t)
	default:
		gap = steady(r, t)
	}
	return newTrain(float64(t*r.Float64()), gap)
}

// steady is a row of gaps of mean t, each a little like the one before.
func steady(r *rand.Rand, t float64) func() float64 {
	x, fresh := r.NormFloat64(), math.Sqrt(1-beatAlike*beatAlike)
	return func() float64 {
		x = float64(beatAlike*x) + float64(fresh*r.NormFloat64())
		return max(0.2*t, t+float64(beatCV*t*x))
	}
}

// waves are steady gaps that grow and shrink by a tenth.
func waves(r *rand.Rand, t, length float64) func() float64 {
	own, at, turn := steady(r, t), r.Float64()*2*math.Pi, 2*math.Pi/length
	return func() float64 {
		at += turn
		return own() + float64(waveDepth*t*math.Sin(at))
	}
}

// dropped leaves out every k-th place: the gap there is nearly two.
func dropped(r *rand.Rand, t float64, k int) func() float64 {
	own, i := steady(r, t), r.IntN(k-1)
	return func() float64 {
		i++
		if i < k-1 {
			return own()
		}
		i = 0
		return float64(2*own()) - blockShort
	}
}

// early lets a beat come too soon now and then, with a longer gap after it.
func early(r *rand.Rand, t float64) func() float64 {
	own, owed := steady(r, t), 0.0
	return func() float64 {
		if owed > 0 {
			gap := own() + owed
			owed = 0
			return gap
		}
		gap := own()
		if r.Float64() < earlyOdds {
			part := between(r, earlyLow, earlyHigh)
			owed = float64(gap * (1 - part))
			return float64(gap * part)
		}
		return gap
	}
}

// wild gaps have nothing to do with each other.
func wild(r *rand.Rand, t float64) func() float64 {
	cv := between(r, wildLow, wildHigh)
	shape := 1 / float64(cv*cv)
	return func() float64 { return max(wildFloorS, float64(t*gamma(r, shape))/shape) }
}

// gamma draws by the method of Marsaglia and Tsang (2000, ACM Trans Math Softw 26:363-372), shape 1 or more.
func gamma(r *rand.Rand, shape float64) float64 {
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := r.NormFloat64()
		v := 1 + float64(c*x)
		if v <= 0 {
			continue
		}
		v = float64(float64(v*v) * v)
		if math.Log(1-r.Float64()) < float64(x*x)/2+d-float64(d*v)+float64(d*math.Log(v)) {
			return float64(d * v)
		}
	}
}

// breathCV: no published value was found for a quiet horse; 15 % is assumed, as in the counting tests.
const breathCV = 0.15

// breathing makes the moments at which the flank begins to move out.
func breathing(r *rand.Rand, perMin float64) *train {
	t := 60 / perMin
	return newTrain(float64(t*r.Float64()), func() float64 {
		return min(max(0.5*t, t+float64(breathCV*t*r.NormFloat64())), 1.6*t)
	})
}
