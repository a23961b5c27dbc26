package tap

import (
	"bufio"
	"compress/gzip"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
)

func asksBoth(taps []float64) bool {
	r, _ := Evaluate(taps, Options{})
	return slices.ContainsFunc(r.Questions, func(q Question) bool { return q.Kind == SoundsInTurn })
}

func soundsLine() verdict {
	w := newWorst()
	rates, windows, sigmas := []float64{28, 32, 36, 40}, []float64{15, 30, 60}, []float64{0.02, 0.04, 0.08}
	spread(len(rates)*len(windows)*len(sigmas), func(i int) {
		rate, window, sigma := rates[i%4], windows[i/4%3], sigmas[i/12]
		g := newSim(15, uint64(i))
		var both, one, every, some share
		for range runsACell {
			t := 60 / g.near(rate)
			var sounds []float64
			for _, b := range g.beats(sinus(0.035, 0.3), t, window) {
				sounds = append(sounds, b, b+0.42+0.03*g.NormFloat64())
			}
			both.add(asksBoth(g.taps(sounds, sigma)))
			one.add(asksBoth(g.taps(g.beats(sinus(0.035, 0.3), t, window), sigma)))
			every.add(asksBoth(g.taps(g.beats(dropped(blockEvery), t, window), sigma)))
			some.add(asksBoth(g.taps(g.beats(dropped(blockSometimes), t, window), sigma)))
		}
		on := fmt.Sprintf("%g/min %g s σ %g ms", rate, window, 1000*sigma)
		w.keep("both", on, both, true)
		w.keep("sinus", on, one, false)
		w.keep("pauses", on, every, false)
		w.keep("pauses", on, some, false)
	})
	ok := w.at["both"].atLeast(0.99) && w.at["sinus"].atMost(0.01) && w.at["pauses"].atMost(0.01)
	return verdict{fmt.Sprintf("%s (%s); sinus %s, pauses %s", w.at["both"].pc(), w.on["both"], w.at["sinus"].pc(), w.at["pauses"].pc()), ok}
}

// irregularLine runs with the person's scatter known and unknown; 15 s is never offered.
func irregularLine() verdict {
	w := newWorst()
	kinds := []named{
		{"wild", wild},
		{"sinus", sinus(0.035, 0.3)},
		{"every", dropped(blockEvery)},
		{"some", dropped(blockSometimes)},
		{"wave", wave},
	}
	sigmas, windows := []float64{0.02, 0.04, 0.08}, []float64{15, 30, 60}
	spread(len(kinds)*9, func(i int) {
		k, window, sigma := kinds[i%5], windows[i/5%3], sigmas[i/15]
		g := newSim(16, uint64(i))
		var known, unknown share
		for range runsACell {
			taps := g.clocked(g.taps(g.beats(k.make, 60/(36+8*g.Float64()), window), sigma))
			r, _ := Evaluate(taps, Options{Sigma: sigma})
			known.add(r.Evenness == Irregular)
			r, _ = Evaluate(taps, Options{})
			unknown.add(r.Evenness == Irregular)
		}
		key := fmt.Sprintf("%s %g s", k.name, window)
		w.keep(key, "known", known, k.name == "wild")
		w.keep(key, "unknown", unknown, k.name == "wild")
	})
	ok := w.at["wild 30 s"].atLeast(0.88) && w.at["wild 60 s"].atLeast(0.93) &&
		w.at["sinus 30 s"].atMost(0.01) && w.at["sinus 60 s"].atMost(0.005) &&
		w.at["every 30 s"].atMost(0.02) && w.at["every 60 s"].atMost(0.02) &&
		w.at["some 30 s"].atMost(0.02) && w.at["some 60 s"].atMost(0.02) &&
		w.at["wave 30 s"].atMost(0.05) && w.at["wave 60 s"].atMost(0.02)
	var seen []string
	for _, k := range kinds {
		ok = ok && w.at[k.name+" 15 s"].hit == 0
		seen = append(seen, fmt.Sprintf("%s %s/%s", k.name, w.at[k.name+" 30 s"].pc(), w.at[k.name+" 60 s"].pc()))
	}
	return verdict{strings.Join(seen, ", ") + "; 15 s not offered", ok}
}

func pausesLine() verdict {
	w := newWorst()
	makers := []named{{"every", dropped(blockEvery)}, {"some", dropped(blockSometimes)}, {"sinus", sinus(0.035, 0.3)}}
	windows, sigmas := []float64{15, 30, 60}, []float64{0.02, 0.04, 0.08}
	spread(len(makers)*9, func(i int) {
		m, window, sigma := makers[i%3], windows[i/3%3], sigmas[i/9]
		g := newSim(17, uint64(i))
		var s share
		for range runsACell {
			t := 60 / (36 + 8*g.Float64())
			beats := g.beats(m.make, t, window)
			want := 0
			for j := 1; j < len(beats); j++ {
				if m.name != "sinus" && beats[j]-beats[j-1] > 1.6*t {
					want++
				}
			}
			r, _ := Evaluate(g.clocked(g.taps(beats, sigma)), Options{})
			s.add(r.Pauses == want && (want == 0 || r.Open == want && r.Questions[0].RateIfMissed > r.Rate))
		}
		w.keep(m.name, fmt.Sprintf("%g s σ %g ms", window, 1000*sigma), s, true)
	})
	ok := w.at["every"].atLeast(0.99) && w.at["some"].atLeast(0.99) && w.at["sinus"].atLeast(0.995)
	return verdict{fmt.Sprintf("regular %s (%s), sporadic %s (%s), none in sinus %s", w.at["every"].pc(), w.on["every"],
		w.at["some"].pc(), w.on["some"], w.at["sinus"].pc()), ok}
}

// realBeats reads the series of beat intervals named by LOOSEBOX_RR (HeartRate.txt.gz of the Debian package
// r-cran-rwave, 8,021 human intervals), without detector slips, rescaled to a mean of 1.5 s. Without it a series with
// slow drift is made up.
func realBeats() (gaps []float64, source string, err error) {
	path := os.Getenv("LOOSEBOX_RR")
	if path == "" {
		g := newSim(18, 0)
		fast, slow := g.deviations(0.03, 0.6, 1.5), g.deviations(0.07, 0.9, 1.5)
		for range 8000 {
			gaps = append(gaps, 1.5+fast()+slow())
		}
		return gaps, "surrogate: LOOSEBOX_RR names no file", nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, "", err
	}
	defer func() { _ = f.Close() }()
	var in io.Reader = f
	if strings.HasSuffix(path, ".gz") {
		if in, err = gzip.NewReader(f); err != nil {
			return nil, "", err
		}
	}
	var all []float64
	for s := bufio.NewScanner(in); s.Scan(); {
		if v, err := strconv.ParseFloat(strings.TrimSpace(s.Text()), 64); err == nil {
			all = append(all, v)
		}
	}
	if len(all) != 8021 {
		return nil, "", fmt.Errorf("%d intervals in %s, 8021 expected", len(all), path)
	}
	for i, v := range all {
		near := median(slices.Clone(all[max(0, i-10):min(len(all), i+11)]))
		if v > 0.75*near && v < 1.3*near {
			gaps = append(gaps, v)
		}
	}
	k := 1.5 / mean(gaps)
	for i := range gaps {
		gaps[i] *= k
	}
	return gaps, fmt.Sprintf("%d real intervals", len(gaps)), nil
}

func realLine() verdict {
	gaps, source, err := realBeats()
	if err != nil {
		return verdict{err.Error(), false}
	}
	g := newSim(18, 1)
	var first, line [3]float64
	for i, window := range []float64{15, 30, 60} {
		for range 2 * runsACell {
			at := -g.Float64() * 1.5
			var beats []float64
			for j := g.IntN(len(gaps) - 100); at < window; j++ {
				if at >= 0 {
					beats = append(beats, at)
				}
				at += gaps[j]
			}
			taps := g.clocked(g.taps(beats, 0.04))
			r, _ := Evaluate(taps, Options{})
			b := trueRate(beats)
			first[i] += math.Pow(r.Rate-b, 2) / (2 * float64(runsACell))
			line[i] += math.Pow(60/lineFit(taps)-b, 2) / (2 * float64(runsACell))
		}
	}
	ok := sqrt(first[0]) <= 0.19 && sqrt(first[1]) <= 0.10 && sqrt(first[2]) <= 0.05 && sqrt(line[1]) >= 0.3
	return verdict{fmt.Sprintf("%.3f/%.3f/%.3f; line fit %.2f/%.2f/%.2f (%s)", sqrt(first[0]), sqrt(first[1]), sqrt(first[2]),
		sqrt(line[0]), sqrt(line[1]), sqrt(line[2]), source), ok}
}
