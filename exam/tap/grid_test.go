package tap

import (
	"fmt"
	"math"
)

func sqrt(x float64) float64 { return math.Sqrt(x) }

// named is a rhythm with its name.
type named struct {
	name string
	make rhythm
}

func rhythms() []named {
	return []named{
		{"metronome", sinus(0, 0)},
		{"sinus", sinus(0.035, 0.3)},
		{"sinus CV 7 %", sinus(0.07, 0.3)},
		{"drift", sinus(0.035, 0.9)},
		{"wave", wave},
		{"every k-th missing", dropped(blockEvery)},
		{"some missing", dropped(blockSometimes)},
		{"one early", premature(false)},
		{"one early, pause", premature(true)},
		{"wild", wild},
	}
}

// cell is one rhythm, rate, window and scatter over all its runs. "B" is the true rate of the tapped stretch.
type cell struct {
	rhythm              string
	rate, window, sigma float64

	runs             int
	err, err2        float64 // sum and sum of squares of rate − B
	theory2, half    float64 // sums of the theoretical variance and of the half-widths
	covered, removed int
}

func (c *cell) rmse() float64   { return sqrt(c.err2 / float64(c.runs)) }
func (c *cell) theory() float64 { return sqrt(c.theory2 / float64(c.runs)) }
func (c *cell) bias() float64   { return c.err / float64(c.runs) }
func (c *cell) share() float64  { return float64(c.covered) / float64(c.runs) }

func (c *cell) String() string {
	return fmt.Sprintf("%s %g/min %g s σ %g ms", c.rhythm, c.rate, c.window, 1000*c.sigma)
}

func trueRate(beats []float64) float64 {
	n := len(beats) - 1
	return 60 * float64(n) / (beats[n] - beats[0])
}

// grid runs every rhythm at every rate, window and scatter.
func grid() []*cell {
	var cells []*cell
	var makers []rhythm
	for _, r := range rhythms() {
		for _, rate := range []float64{32, 40, 60, 100} {
			for _, window := range []float64{15, 30, 60} {
				for _, sigma := range []float64{0.02, 0.04, 0.08} {
					cells = append(cells, &cell{rhythm: r.name, rate: rate, window: window, sigma: sigma})
					makers = append(makers, r.make)
				}
			}
		}
	}
	spread(len(cells), func(i int) {
		g := newSim(3, uint64(i))
		for range runsACell {
			cells[i].one(g, makers[i])
		}
	})
	return cells
}

func (c *cell) one(g sim, r rhythm) {
	beats := g.beats(r, 60/g.near(c.rate), c.window)
	if len(beats) < 3 {
		return
	}
	res, err := Evaluate(g.clocked(g.taps(beats, c.sigma)), Options{})
	if err != nil || !res.HasHalfWidth {
		return
	}
	b, n := trueRate(beats), float64(len(beats)-1)
	d := res.Rate - b
	c.runs++
	c.err += d
	c.err2 += d * d
	v := math.Sqrt2 * c.sigma * b * b / (60 * n)
	c.theory2 += v * v
	c.half += res.HalfWidth
	c.removed += len(res.Removed)
	if math.Abs(d) <= res.HalfWidth {
		c.covered++
	}
}

func headlineLine(cells []*cell) verdict {
	low, high, ok := math.Inf(1), 0.0, true
	var worst string
	for _, c := range cells {
		x := c.rmse() / c.theory()
		limit := 0.07
		if runsACell < 2000 {
			limit = 0.25
		}
		if c.runs < runsACell*99/100 || math.Abs(x-1) > limit {
			ok = false
			worst += fmt.Sprintf("; %s %.2f (%d runs, %d removed)", c, x, c.runs, c.removed)
		}
		low, high = min(low, x), max(high, x)
		if most, has := absolute(c); has && c.rmse() > most*(1+limit-0.07) {
			ok = false
			worst += fmt.Sprintf("; %s %.3f/min", c, c.rmse())
		}
	}
	return verdict{fmt.Sprintf("%.3f–%.3f of it over %d cells%s", low, high, len(cells), worst), ok}
}

// absolute is the error per minute that line 3 allows at σ 40 ms.
func absolute(c *cell) (most float64, has bool) {
	at := map[float64]int{15: 0, 30: 1, 60: 2}[c.window]
	switch {
	case c.sigma != 0.04:
		return 0, false
	case c.rate <= 60:
		return []float64{0.27, 0.13, 0.07}[at], true
	default:
		return []float64{0.43, 0.21, 0.11}[at], true
	}
}

func biasLine(cells []*cell) verdict {
	worst, late, ok := 0.0, 0.0, true
	for _, c := range cells {
		limit := 0.05
		if c.window == 15 {
			limit = 0.10
		}
		if runsACell < 2000 {
			limit += 3 * c.theory() / sqrt(float64(runsACell))
		}
		ok = ok && math.Abs(c.bias()) <= limit
		worst = max(worst, math.Abs(c.bias()))
	}
	for i, rate := range []float64{32, 40, 60} {
		for j, window := range []float64{15, 30, 60} {
			late = max(late, math.Abs(slowStart(newSim(6, uint64(10*i+j)), rate, window)))
		}
	}
	return verdict{fmt.Sprintf("%.3f; with a slow first tap %.2f", worst, late), ok && late <= 0.25}
}

// slowStart is the bias when the first tap is late by 0.22 s and later ones settle to a lead of 0.03 s (assumed), with
// two lead-in taps.
func slowStart(g sim, rate, window float64) float64 {
	sum := 0.0
	for range runsACell {
		beats := g.beats(sinus(0.035, 0.3), 60/g.near(rate), window)
		taps := g.taps(beats, 0.04)
		for i := range taps {
			taps[i] += 0.25 * math.Exp(-float64(i))
		}
		r, _ := Evaluate(g.clocked(taps), Options{LeadIn: 2})
		sum += r.Rate - trueRate(beats[2:])
	}
	return sum / float64(runsACell)
}

func coverageLine(cells []*cell) verdict {
	low, at, ok := 1.0, "", true
	var widths [3]float64
	for _, c := range cells {
		if c.share() < low {
			low, at = c.share(), c.String()
		}
		ok = ok && c.share() >= 0.94-slack(0.95, c.runs)
		if c.rhythm == "sinus" && c.rate == 40 && c.sigma == 0.04 {
			widths[map[float64]int{15: 0, 30: 1, 60: 2}[c.window]] = c.half / float64(c.runs)
		}
	}
	ok = ok && widths[0] <= 0.60 && widths[1] <= 0.28 && widths[2] <= 0.14
	return verdict{fmt.Sprintf("lowest %.1f %% (%s); mean %.2f/%.2f/%.2f", 100*low, at, widths[0], widths[1], widths[2]), ok}
}
