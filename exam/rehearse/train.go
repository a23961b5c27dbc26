package rehearse

import (
	"sort"
	"sync"
)

// LongestS is how long a simulated horse can be examined, in seconds; nothing happens after it.
const LongestS = 24 * 3600

// train is an endless row of moments, made as far as somebody asks. Moments are whole milliseconds, so that a last bit
// that differs between machines cannot add up. It is safe for use by several goroutines.
type train struct {
	mu   sync.Mutex
	at   []int64        // ms, rising
	next func() float64 // s to the next one
}

// newTrain begins at the given second; gap gives the seconds from each moment to the next.
func newTrain(firstS float64, gap func() float64) *train {
	return &train{at: []int64{milli(firstS)}, next: gap}
}

func milli(s float64) int64 { return int64(float64(s*1000) + 0.5) }

// between lists the moments from one second up to, but not including, another.
func (t *train) between(from, to float64) []float64 {
	if !(to > from) {
		return nil
	}
	from, to = max(from, 0), min(to, LongestS)
	t.mu.Lock()
	defer t.mu.Unlock()
	for float64(t.at[len(t.at)-1]) < to*1000 {
		t.at = append(t.at, t.at[len(t.at)-1]+max(1, milli(t.next())))
	}
	place := func(s float64) int {
		return sort.Search(len(t.at), func(i int) bool { return float64(t.at[i]) >= s*1000 })
	}
	first, last := place(from), place(to)
	out := make([]float64, 0, max(0, last-first))
	for i := first; i < last; i++ {
		out = append(out, float64(t.at[i])/1000)
	}
	return out
}
