package tap

import (
	"fmt"
	"math"
)

func goldenLine() verdict {
	off := 0.0
	for _, c := range []struct {
		taps []float64
		o    Options
		rate float64
	}{
		{goldenG1(), Options{}, 60 * 10 / 15.021},
		{goldenG2(), Options{}, 60 * 11 / 16.59},
		{goldenG3(), Options{}, 60 * 9 / 15.010},
		{goldenG3(), Options{Rest: TapMissed}, 60 * 10 / 15.010},
	} {
		r, err := Evaluate(c.taps, c.o)
		if err != nil {
			return verdict{err.Error(), false}
		}
		off = max(off, math.Abs(r.Rate-c.rate))
	}
	return verdict{fmt.Sprintf("off by %.1g at most", off), off <= 1e-9}
}

func fenceLine() verdict {
	five, _ := Evaluate([]float64{0, 1.5, 3, 4.5, 6}, Options{})
	two, _ := Evaluate([]float64{0, 1.5}, Options{})
	one, _ := Evaluate([]float64{0}, Options{})
	ok := math.Abs(five.Rate-40) < 1e-9 && !two.HasHalfWidth && !one.HasRate
	return verdict{fmt.Sprintf("%.3f; interval %t; rate %t", five.Rate, two.HasHalfWidth, one.HasRate), ok}
}

// bounded compares an estimate of the period with its bound for the underlying rate over white rhythm.
func bounded(g sim, rate, window, cv, sigma float64, estimate func(taps []float64) float64) float64 {
	err2, bound := 0.0, 0.0
	for done := 0; done < runsACell; {
		t := 60 / g.near(rate)
		beats := g.beats(sinus(cv, 0), t, window)
		n := len(beats) - 1
		if n < 7 {
			continue
		}
		done++
		perMin := 60 / (t * t)
		d := 60/estimate(g.taps(beats, sigma)) - 60/t
		err2 += d * d
		bound += crb(n, cv*t, sigma) * perMin * perMin
	}
	return sqrt(err2 / bound)
}

func boundLine() verdict {
	worst := 0.0
	for i, rate := range []float64{32, 40, 60, 100} {
		for j, window := range []float64{15, 30, 60} {
			for k, sigma := range []float64{0.02, 0.04, 0.08} {
				for l, ratio := range []float64{0.5, 1, 2} { // σ_w/σ
					g := newSim(4, uint64(1000*i+100*j+10*k+l))
					worst = max(worst, bounded(g, rate, window, ratio*sigma*rate/60, sigma, func(taps []float64) float64 {
						r, _ := Evaluate(taps, Options{})
						return 60 / r.Rate
					}))
				}
			}
		}
	}
	limit := 1.15
	if runsACell < 2000 {
		limit = 1.35
	}
	return verdict{fmt.Sprintf("%.3f at most", worst), worst <= limit}
}

func glsLine() verdict {
	fit := func(taps []float64) float64 {
		gaps := make([]float64, len(taps)-1)
		for i := range gaps {
			gaps[i] = taps[i+1] - taps[i]
		}
		return gls(gaps, 0.3).period
	}
	sinusMost, metronome := 0.0, 0.0
	for i, rate := range []float64{32, 40, 60} {
		for j, sigma := range []float64{0.02, 0.04, 0.08} {
			g := newSim(5, uint64(10*i+j))
			sinusMost = max(sinusMost, bounded(g, rate, 15, 0.035, sigma, fit), bounded(g, rate, 30, 0.035, sigma, fit))
		}
		metronome = max(metronome, bounded(newSim(5, uint64(100+i)), rate, 15, 0, 0.04, fit))
	}
	more := 0.0
	if runsACell < 2000 {
		more = 0.2
	}
	return verdict{fmt.Sprintf("%.3f; metronome %.3f", sinusMost, metronome), sinusMost <= 1.10+more && metronome <= 1.40+more}
}

func countingLine() verdict {
	worst, off, ok := 0.0, 0.0, true
	for i, rate := range []float64{32, 40, 60} {
		for j, window := range []float64{15, 30, 60} {
			g := newSim(7, uint64(10*i+j))
			var count2, bias float64
			tap2 := [3]float64{}
			for range runsACell {
				t := 60 / g.near(rate)
				long := g.beats(sinus(0.035, 0.3), t, window+4*t)
				n := 0
				for n < len(long) && long[n] < window {
					n++
				}
				beats, b := long[:n], trueRate(long[:n])
				count2 += math.Pow(60*float64(n)/window-b, 2)
				for k, sigma := range []float64{0.02, 0.04, 0.06} {
					r, _ := Evaluate(g.clocked(g.taps(beats, sigma)), Options{})
					tap2[k] += math.Pow(r.Rate-b, 2)
				}
				r, _ := Evaluate(long, Options{})
				bias += r.Windows[j].RatePerMin - 60/t
			}
			for _, x := range tap2 {
				worst = max(worst, sqrt(x/count2))
			}
			d := bias/float64(runsACell) + 30/window
			limit := 0.1
			if runsACell < 2000 {
				limit = 0.4
			}
			ok = ok && math.Abs(d) <= limit
			off = max(off, math.Abs(d))
		}
	}
	return verdict{fmt.Sprintf("%.3f of it at most; bias off by %.3f at most", worst, off), ok && worst <= 0.25}
}

func steadyLine() verdict {
	low, high := 1.0, 0.0
	for i, window := range []float64{15, 30, 60} {
		for j, sigma := range []float64{0.02, 0.04, 0.08} {
			low = min(low, steadyCover(newSim(9, uint64(10*i+j)), window, sigma, 0))
		}
		high = max(high, steadyCover(newSim(9, uint64(100+i)), window, 0.04, 0.9))
	}
	ok := low >= 0.94-slack(0.95, runsACell) && high < 0.90
	return verdict{fmt.Sprintf("white ≥ %.1f %%, drift ≤ %.1f %%", 100*low, 100*high), ok}
}

func steadyCover(g sim, window, sigma, phi float64) float64 {
	hit := 0
	for range runsACell {
		t := 60 / g.near(40)
		r, _ := Evaluate(g.taps(g.beats(sinus(0.035, phi), t, window), sigma), Options{})
		if math.Abs(r.Rate-60/t) <= steadyHalf(r.Strip) {
			hit++
		}
	}
	return float64(hit) / float64(runsACell)
}

func limitLine() verdict {
	worst, flat, ok := 0.0, 0.0, true
	const limit = 44.0
	for i, window := range []float64{15, 30, 60} {
		for j, sigma := range []float64{0.02, 0.04, 0.08} {
			for k, away := range []float64{-0.5, 0, 0.5} {
				g := newSim(20, uint64(100*i+10*j+k))
				wrong, said := 0, 0
				for range runsACell {
					beats := g.beats(sinus(0.035, 0.3), 60/(limit+away), window)
					r, _ := Evaluate(g.clocked(g.taps(beats, sigma)), Options{})
					side := r.Against(limit)
					held := r.Rate-r.HalfWidth <= limit && limit <= r.Rate+r.HalfWidth
					ok = ok && held == (side == Borderline)
					if side == Borderline {
						continue
					}
					said++
					if (side == Above) != (trueRate(beats) > limit) {
						wrong++
					}
				}
				worst = max(worst, float64(wrong)/float64(runsACell))
				if window == 60 && sigma == 0.02 && away != 0 {
					flat = max(flat, float64(said)/float64(runsACell))
				}
			}
		}
	}
	// A rule that always said borderline would never be wrong: at 60 s and 20 ms it must mostly commit itself.
	ok = ok && worst <= 0.03+slack(0.03, runsACell) && flat > 0.8
	return verdict{fmt.Sprintf("flat and wrong %.1f %%; flat at 60 s, 20 ms, ± 0.5: %.0f %%", 100*worst, 100*flat), ok}
}
