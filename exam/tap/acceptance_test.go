package tap

import (
	"fmt"
	"runtime"
	"strings"
	"sync"
	"testing"
)

// verdict is what one line of the acceptance table has seen.
type verdict struct {
	seen string
	ok   bool
}

type acceptance struct {
	no         int
	what, want string
	run        func(t *testing.T) verdict
}

// TestAcceptance is the acceptance table of the count, one line a rule, with the number that was reached:
//
//	go test ./exam/tap -run Acceptance -v
//
// Line 5 is about an estimator that is not offered; it holds the reference of the tests to its bound all the same.
// Lines 1, 2 and 19 have tests of their own; they are run here again so that the table is whole.
func TestAcceptance(t *testing.T) {
	cells, stray := sync.OnceValue(grid), sync.OnceValue(strayGrid)
	lines := []acceptance{
		{1, "golden vectors G1, G2, G3", "1e-9 in the rate", plain(goldenLine)},
		{2, "fence-post", "5 taps 1.5 s apart: 40; 2 taps: no interval; 1 tap: no rate", plain(fenceLine)},
		{3, "headline error in any rhythm", "within 7 % of √2·σ·rate²/(60·n)", func(*testing.T) verdict { return headlineLine(cells()) }},
		{4, "error over the Cramér-Rao bound, underlying rate", "≤ 1.15", plain(boundLine)},
		{5, "least squares with a fixed ratio (not offered)", "≤ 1.10, metronome ≤ 1.40", plain(glsLine)},
		{6, "bias", "≤ 0.05 (15 s 0.10); with a slow first tap ≤ 0.25", func(*testing.T) verdict { return biasLine(cells()) }},
		{7, "against counting the same window", "≤ ¼ of its error; beat = 0 reads −30/W ± 0.1", plain(countingLine)},
		{8, "coverage of the half-width", "≥ 94 % everywhere; mean ≤ 0.60/0.28/0.14", func(*testing.T) verdict { return coverageLine(cells()) }},
		{9, "coverage of the steady-rate interval (not shown)", "≥ 94 % white, < 90 % under drift", plain(steadyLine)},
		{10, "missed tap asked about", "≥ 98.5 % (15 s 98 %)", plain(missedLine)},
		{11, "double removed", "≥ 99 %, at 100/min ≥ 90 %", plain(doubleLine)},
		{12, "false flags", "long ≤ 0.5 %, early ≤ 2 % (≤ 1 % at ≤ 40/min), double ≤ 0.2 %", plain(falseLine)},
		{13, "breathing, 60 s, CV 15 %", "missed ≥ 90 %, false long ≤ 2 %, never repaired", plain(breathLine)},
		{14, "held key", "one tap", plain(heldLine)},
		{15, "both heart sounds at ≤ 40/min", "≥ 99 %; sinus and pauses ≤ 1 %", plain(soundsLine)},
		{16, "irregular, no repeating pattern", "≥ 88/93 % (30/60 s); the others ≤ 1/0.5, 2, 5/2 %", plain(irregularLine)},
		{17, "pauses", "number right ≥ 99 %, none in sinus ≥ 99.5 %", plain(pausesLine)},
		{18, "real beats, 40/min, σ 40 ms", "≤ 0.19/0.10/0.05; line fit ≥ 0.3 at 30 s", plain(realLine)},
		{19, "scaling, shifting, reversing, rounding", "exact; rounding ≤ 0.02", metamorphicLine},
		{20, "near a limit", "interval holds the limit: borderline; flat and wrong ≤ 3 %", plain(limitLine)},
		{21, "straying taps, 40 to 140/min: the band holds", "≥ 95 % at every rate, ≥ 94 % in every cell", func(*testing.T) verdict { return strayHoldsLine(stray()) }},
		{22, "straying taps: median width of the band over the ideal one", "≤ 1.5", func(*testing.T) verdict { return strayWidthLine(stray()) }},
		{23, "irregular at 60 to 80/min, σ 40 ms", "found ≥ 80 %, false ≤ 5 %", plain(quickFoundLine)},
		{24, "irregular at 60 to 140/min, σ 20 to 80 ms", "called even ≤ 5 %; even at CV 3.5 % called irregular ≤ 5 %", plain(quickEvenLine)},
		{25, "15 s", "nothing is said about evenness", plain(shortLine)},
		{26, "with the person's scatter, 100 and 120/min, 60 s", "irregular found ≥ 80 %, even called even ≥ 80 %", plain(knownLine)},
	}
	seen := make([]verdict, len(lines))
	t.Cleanup(func() {
		var b strings.Builder
		fmt.Fprintf(&b, "acceptance, %d runs a cell\n", runsACell)
		for i, l := range lines {
			if seen[i].seen == "" {
				continue // not run: -run named other lines
			}
			fmt.Fprintf(&b, "%2d  %-11s %s\n    wanted %s\n    seen   %s\n", l.no, word(seen[i].ok), l.what, l.want, seen[i].seen)
		}
		t.Log(b.String())
	})
	for i, l := range lines {
		t.Run(fmt.Sprintf("line%02d", l.no), func(t *testing.T) {
			t.Parallel()
			seen[i] = l.run(t)
			if !seen[i].ok {
				t.Errorf("%s: wanted %s, seen %s", l.what, l.want, seen[i].seen)
			}
		})
	}
}

func plain(f func() verdict) func(t *testing.T) verdict {
	return func(*testing.T) verdict { return f() }
}

func word(ok bool) string {
	if ok {
		return "pass"
	}
	return "falls short"
}

// spread runs f for every cell number below n on all processors.
func spread(n int, f func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// slack widens a share by three Monte Carlo errors when fewer runs are made than the acceptance numbers are meant for.
func slack(p float64, trials int) float64 {
	if runsACell >= 2000 {
		return 0
	}
	return 3 * sqrt(max(p*(1-p), 0.002)/float64(trials))
}
