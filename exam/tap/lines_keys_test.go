package tap

import "fmt"

func doubleLine() verdict {
	rates := []float64{32, 40, 60, 100}
	seen := make([]share, len(rates))
	spread(len(rates), func(i int) {
		g := newSim(11, uint64(i))
		for seen[i].all < 2*runsACell {
			t := 60 / g.near(rates[i])
			taps := g.clocked(g.taps(g.beats(sinus(0.035, 0.3), t, 30), 0.04))
			hits, total := g.doubled(taps, t)
			seen[i].hit, seen[i].all = seen[i].hit+hits, seen[i].all+total
		}
	})
	ok := seen[0].atLeast(0.99) && seen[1].atLeast(0.99) && seen[2].atLeast(0.99) && seen[3].atLeast(0.90)
	return verdict{fmt.Sprintf("%s, %s, %s; 100/min %s", seen[0].pc(), seen[1].pc(), seen[2].pc(), seen[3].pc()), ok}
}

// doubled strikes some taps twice and counts how many of the pairs lost exactly one tap.
func (g sim) doubled(taps []float64, t float64) (hits, total int) {
	var out []float64
	var pairs []int // number of the second tap
	for _, at := range taps {
		out = append(out, at)
		if g.Float64() < 0.02 {
			most := min(0.35, 0.2*t)
			if t < 1 {
				most = min(0.22, 0.2*t)
			}
			out = append(out, at+0.06+(most-0.06)*g.Float64())
			pairs = append(pairs, len(out))
		}
	}
	r, _ := Evaluate(out, Options{})
	for _, p := range pairs {
		n := 0
		for _, x := range r.Removed {
			if x.Tap == p || x.Tap == p-1 {
				n++
			}
		}
		total++
		if n == 1 {
			hits++
		}
	}
	return hits, total
}

func heldLine() verdict {
	g := newSim(14, 1)
	wrongTaps := 0
	for range runsACell {
		what, rate := Heart, 25+75*g.Float64()
		if g.IntN(3) == 0 {
			what, rate = Breath, 8+32*g.Float64()
		}
		c, at, beats := NewCounter(Options{What: what}), 0.0, 12+g.IntN(20)
		for range beats {
			c.Press(at)
			next := at + 60/rate
			if delay, every := 0.25+0.85*g.Float64(), 0.025+0.075*g.Float64(); g.IntN(4) == 0 {
				// Held until shortly before the next beat, or for one long stretch.
				until := next - 0.45
				if g.IntN(8) == 0 {
					until += 5
					next = until + 60/rate
				}
				if until > at+delay+2.5*every {
					for p := at + delay; p < until; p += every {
						c.Press(p)
					}
				}
			}
			at = next
		}
		if c.Taps() != beats {
			wrongTaps++
		}
	}
	return verdict{fmt.Sprintf("%d of %d counts wrong", wrongTaps, runsACell), wrongTaps == 0}
}
