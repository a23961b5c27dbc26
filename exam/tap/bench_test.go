package tap

import "testing"

func recording(n int) []float64 {
	g := newSim(7, 7)
	return g.taps(g.beats(sinus(0.035, 0.3), 1.5, float64(n)*1.52+30), 0.04)[:n]
}

func BenchmarkEvaluate10000(b *testing.B) {
	times := recording(10_000)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Evaluate(times, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// One tap's whole work when 200 are there: the press and a fresh result.
func BenchmarkTapAt200(b *testing.B) {
	times := recording(201)
	c := NewCounter(Options{LeadIn: 2})
	for _, t := range times[:200] {
		c.Press(t)
	}
	b.ReportAllocs()
	for b.Loop() {
		c.Press(times[200])
		c.Result()
		c.TakeBack()
		c.last = times[199]
	}
}
