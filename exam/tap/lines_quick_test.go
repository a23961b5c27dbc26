package tap

import (
	"fmt"
	"slices"

	"loosebox/exam"
)

// said taps a rhythm so many times and counts the words.
func said(g sim, r rhythm, rate, window, s float64, o Options) map[exam.Evenness]int {
	out := map[exam.Evenness]int{}
	for range runsACell {
		beats := g.beats(r, 60/g.near(rate), window)
		res, _ := Evaluate(g.clocked(g.taps(beats, s)), o)
		out[res.Evenness]++
	}
	return out
}

// even is how often one of the three words for an even heart was said.
func even(n map[exam.Evenness]int) share {
	return share{n[Even] + n[EvenWithPauses] + n[SpeedingAndSlowing], runsACell}
}

func found(n map[exam.Evenness]int) share { return share{n[Irregular], runsACell} }

// quickFoundLine: with the person's scatter known and unknown, 30 and 60 s.
func quickFoundLine() verdict {
	w := newWorst()
	kinds := []named{{"wild", wild}, {"sinus", sinus(0.035, 0.3)}, {"CV 7 %", sinus(0.07, 0.3)}, {"wave", wave}}
	rates, windows := []float64{62, 70, 78}, []float64{30, 60} // near draws ± 2
	spread(len(kinds)*6, func(i int) {
		k, rate, window := kinds[i%4], rates[i/4%3], windows[i/12]
		for j, o := range []Options{{}, {Sigma: 0.04}} {
			n := said(newSim(23, uint64(10*i+j)), k.make, rate, window, 0.04, o)
			on := fmt.Sprintf("%s %g/min %g s", k.name, rate, window)
			if k.name == "wild" {
				w.keep("found", on, found(n), true)
			} else {
				w.keep("false", on, found(n), false)
			}
		}
	})
	ok := w.at["found"].atLeast(0.80) && w.at["false"].atMost(0.05)
	return verdict{fmt.Sprintf("found %s (%s), false %s (%s)", w.at["found"].pc(), w.on["found"], w.at["false"].pc(), w.on["false"]), ok}
}

// quickEvenLine also shows how much is left to judge at 100/min and above.
func quickEvenLine() verdict {
	w := newWorst()
	kinds := []named{{"wild", wild}, {"sinus", sinus(0.035, 0.3)}}
	rates, windows, scatters := []float64{62, 80, 100, 120, 140}, []float64{30, 60}, []float64{0.02, 0.04, 0.08}
	spread(len(kinds)*30, func(i int) {
		k, rate, window, s := kinds[i%2], rates[i/2%5], windows[i/10%2], scatters[i/20]
		for j, o := range []Options{{}, {Sigma: s}} {
			n := said(newSim(24, uint64(10*i+j)), k.make, rate, window, s, o)
			on := fmt.Sprintf("%g/min %g s σ %g ms", rate, window, 1000*s)
			if k.name == "wild" {
				w.keep("even", on, even(n), false)
			} else {
				w.keep("false", on, found(n), false)
			}
			if rate >= 100 && j == 0 && s == 0.04 {
				w.keep(fmt.Sprintf("%s %g/min %g s", k.name, rate, window), "", share{n[TooFast], runsACell}, false)
			}
		}
	})
	ok := w.at["even"].atMost(0.05) && w.at["false"].atMost(0.05)
	seen := fmt.Sprintf("even %s (%s), false %s (%s); too fast at 40 ms, 60 s, irregular and even:", w.at["even"].pc(), w.on["even"], w.at["false"].pc(), w.on["false"])
	for _, rate := range []float64{100, 120, 140} {
		at := func(kind string) string { return w.at[fmt.Sprintf("%s %g/min 60 s", kind, rate)].pc() }
		seen += fmt.Sprintf(" %s and %s at %g/min,", at("wild"), at("sinus"), rate)
	}
	return verdict{seen[:len(seen)-1], ok}
}

// shortLine taps every rhythm for 15 s, with the scatter known and unknown.
func shortLine() verdict {
	kinds, rates := rhythms(), []float64{40, 60, 80, 100, 120, 140}
	spoke := make([]int, len(kinds)*len(rates))
	spread(len(spoke), func(i int) {
		for j, o := range []Options{{}, {Sigma: 0.04}} {
			n := said(newSim(25, uint64(10*i+j)), kinds[i%len(kinds)].make, rates[i/len(kinds)], 15, 0.04, o)
			spoke[i] += runsACell - n[TooFew]
		}
	})
	most := slices.Max(spoke)
	return verdict{fmt.Sprintf("%d of %d", most, 2*len(spoke)*runsACell), most == 0}
}

func knownLine() verdict {
	w := newWorst()
	for i, rate := range []float64{100, 120} {
		w.keep("found", fmt.Sprintf("%g/min", rate), found(said(newSim(26, uint64(i)), wild, rate, 60, 0.04, Options{Sigma: 0.04})), true)
		w.keep("even", fmt.Sprintf("%g/min", rate), even(said(newSim(26, uint64(10+i)), sinus(0.035, 0.3), rate, 60, 0.04, Options{Sigma: 0.04})), true)
	}
	ok := w.at["found"].atLeast(0.80) && w.at["even"].atLeast(0.80)
	return verdict{fmt.Sprintf("found %s (%s), even %s (%s)", w.at["found"].pc(), w.on["found"], w.at["even"].pc(), w.on["even"]), ok}
}
