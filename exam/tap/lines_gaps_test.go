package tap

import (
	"fmt"
	"math"
	"slices"
)

// share is hits of all.
type share struct{ hit, all int }

func (s *share) add(hit bool) {
	s.all++
	if hit {
		s.hit++
	}
}

func (s share) part() float64 { return float64(s.hit) / float64(max(1, s.all)) }
func (s share) pc() string    { return fmt.Sprintf("%.2f %%", 100*s.part()) }

func (s share) atLeast(p float64) bool { return s.all > 0 && s.part() >= p-slack(p, s.all) }
func (s share) atMost(p float64) bool  { return s.all > 0 && s.part() <= p+slack(p, s.all) }

// quiet is the range in which the gap rules are promised: up to 60/min, CV up to 6 %, scatter up to 80 ms.
func quiet(f func(i int, rate, window, cv, sigma float64)) {
	var todo []func()
	for i, rate := range []float64{32, 40, 60} {
		for j, window := range []float64{15, 30, 60} {
			for k, cv := range []float64{0.035, 0.06} {
				for l, sigma := range []float64{0.04, 0.08} {
					todo = append(todo, func() { f(1000*i+100*j+10*k+l, rate, window, cv, sigma) })
				}
			}
		}
	}
	spread(len(todo), func(i int) { todo[i]() })
}

// lowest and highest keep the worst cell; they are filled from many goroutines.
type worst struct {
	c  chan struct{}
	at map[string]share
	on map[string]string
}

func newWorst() *worst {
	return &worst{c: make(chan struct{}, 1), at: map[string]share{}, on: map[string]string{}}
}

func (w *worst) keep(key, cell string, s share, lowest bool) {
	w.c <- struct{}{}
	defer func() { <-w.c }()
	old, has := w.at[key]
	if !has || lowest && s.part() < old.part() || !lowest && s.part() > old.part() {
		w.at[key], w.on[key] = s, cell
	}
}

func missedLine() verdict {
	w := newWorst()
	quiet(func(i int, rate, window, cv, sigma float64) {
		g := newSim(10, uint64(i))
		var s share
		for s.all < runsACell {
			beats := g.beats(sinus(cv, 0.3), 60/g.near(rate), window)
			taps := g.clocked(g.taps(beats, sigma))
			taps, gone := g.miss(taps, 0.05)
			r, _ := Evaluate(taps, Options{})
			for _, after := range gone {
				s.add(slices.ContainsFunc(r.Questions, func(q Question) bool { return q.Kind == LongGap && q.AfterTap == after }))
			}
		}
		key := "30, 60 s"
		if window == 15 {
			key = "15 s"
		}
		w.keep(key, fmt.Sprintf("%g/min CV %g %% σ %g ms", rate, 100*cv, 1000*sigma), s, true)
	})
	ok := w.at["30, 60 s"].atLeast(0.985) && w.at["15 s"].atLeast(0.98)
	return verdict{fmt.Sprintf("%s (%s); 15 s %s (%s)", w.at["30, 60 s"].pc(), w.on["30, 60 s"], w.at["15 s"].pc(), w.on["15 s"]), ok}
}

// miss leaves out taps with probability p, none of the first or last two, and returns the tap number before each gap.
func (g sim) miss(taps []float64, p float64) (left []float64, after []int) {
	for i, t := range taps {
		if i > 1 && i < len(taps)-2 && g.Float64() < p {
			if k := len(left); len(after) == 0 || after[len(after)-1] != k {
				after = append(after, k)
			}
			continue
		}
		left = append(left, t)
	}
	return left, after
}

func falseLine() verdict {
	w := newWorst()
	quiet(func(i int, rate, window, cv, sigma float64) {
		g := newSim(12, uint64(i))
		var long, early, double share
		for range 2 * runsACell {
			taps := g.clocked(g.taps(g.beats(sinus(cv, 0.3), 60/g.near(rate), window), sigma))
			r, _ := Evaluate(taps, Options{})
			long.add(len(r.Questions) > 0)
			early.add(len(r.Early) > 0)
			double.add(len(r.Removed) > 0)
		}
		on := fmt.Sprintf("%g/min %g s CV %g %% σ %g ms", rate, window, 100*cv, 1000*sigma)
		w.keep("long", on, long, false)
		w.keep("double", on, double, false)
		if rate <= 40 {
			w.keep("early at rest", on, early, false)
		}
		w.keep("early", on, early, false)
	})
	ok := w.at["long"].atMost(0.005) && w.at["early"].atMost(0.02) && w.at["early at rest"].atMost(0.01) && w.at["double"].atMost(0.002)
	return verdict{fmt.Sprintf("long %s (%s), early %s (%s), at rest %s, double %s", w.at["long"].pc(), w.on["long"],
		w.at["early"].pc(), w.on["early"], w.at["early at rest"].pc(), w.at["double"].pc()), ok}
}

func breathLine() verdict {
	g := newSim(13, 1)
	var found, long share
	repaired := 0
	for range 2 * runsACell {
		beats := g.beats(sinus(0.15, 0), 60/g.near(12), 60)
		taps := g.taps(beats, 0.15)
		clean, _ := Evaluate(taps, Options{What: Breath})
		long.add(slices.ContainsFunc(clean.Questions, func(q Question) bool { return q.Kind == LongGap }))
		left, gone := g.miss(taps, 0.05)
		r, _ := Evaluate(left, Options{What: Breath})
		for _, after := range gone {
			found.add(slices.ContainsFunc(r.Questions, func(q Question) bool { return q.Kind == LongGap && q.AfterTap == after }))
		}
		if r.Beats != len(left)-1-r.Held || math.Abs(r.Rate-60*float64(r.Beats)/(r.LastS-r.FirstS)) > 1e-9 {
			repaired++
		}
	}
	ok := found.atLeast(0.90) && long.atMost(0.02) && repaired == 0
	return verdict{fmt.Sprintf("missed %s, false long %s, repaired %d", found.pc(), long.pc(), repaired), ok}
}
