package rehearse

import (
	"slices"

	"loosebox/exam"
	"loosebox/exam/ownfile"
)

// OrderMark says how well the order of the routine was kept. One ask is one place round the horse: a step with its sites
// there. Asks that were never answered are missed, not out of order, and do not count here.
type OrderMark struct {
	Asks     int `json:"asks"`     // of the routine, for this horse
	Answered int `json:"answered"` // of them
	// Edits is how many asks to insert, drop or replace to turn the order kept into that of the routine (Levenshtein).
	Edits int `json:"edit_distance"`
	// Tau is Kendall's rank correlation of the two orders: 1 kept, -1 turned round; null with fewer than two asks.
	Tau        *float64 `json:"kendall_tau"`
	OutOfOrder []Place  `json:"out_of_order"` // the fewest asks whose moving mends the order
}

// kendall is tau of a list of different ranks against rising order (Kendall 1938): pairs in order minus pairs turned
// round, over all pairs. False with fewer than two.
func kendall(ranks []int) (float64, bool) {
	n := len(ranks)
	if n < 2 {
		return 0, false
	}
	score := 0
	for i := range ranks {
		for j := i + 1; j < n; j++ {
			if ranks[j] > ranks[i] {
				score++
			} else {
				score--
			}
		}
	}
	return float64(score) / float64(n*(n-1)/2), true
}

// strays lists the places in ranks that are not in the longest rising part of it: the fewest to move.
func strays(ranks []int) []int {
	length, before, best := make([]int, len(ranks)), make([]int, len(ranks)), -1
	for i := range ranks {
		length[i], before[i] = 1, -1
		for j := range i {
			if ranks[j] < ranks[i] && length[j]+1 > length[i] {
				length[i], before[i] = length[j]+1, j
			}
		}
		if best < 0 || length[i] > length[best] {
			best = i
		}
	}
	keep := map[int]bool{}
	for i := best; i >= 0; i = before[i] {
		keep[i] = true
	}
	var out []int
	for i := range ranks {
		if !keep[i] {
			out = append(out, i)
		}
	}
	return out
}

// markOrder reads the order in which asks were first answered, not done included, out of the entries.
func (m *marker) markOrder() {
	number := map[exam.Key]int{}
	for i, ask := range m.routine.Asks {
		for _, k := range ask.Keys() {
			number[k] = i
		}
	}
	var ranks []int
	seen := map[int]bool{}
	for _, e := range m.entries {
		if e.Kind != exam.EntryFinding && e.Kind != exam.EntryNotDone {
			continue
		}
		i, ok := number[exam.Key{Step: e.Step, Site: e.Site}]
		if e.Site == exam.Overall {
			i, ok = m.overallAsk(e.Step, seen)
		}
		if ok && !seen[i] {
			seen[i] = true
			ranks = append(ranks, i)
		}
		for other, ask := range m.routine.Asks { // one answer for all sites leaves nothing to do at the later stops
			seen[other] = seen[other] || (e.Site == exam.Overall && ask.Step == e.Step)
		}
	}
	o := OrderMark{Asks: len(m.routine.Asks), Answered: len(ranks), OutOfOrder: []Place{}}
	o.Edits = ownfile.Changes(ranks, slices.Sorted(slices.Values(ranks)))
	if tau, ok := kendall(ranks); ok {
		o.Tau = &tau
	}
	for _, i := range strays(ranks) {
		ask := m.routine.Asks[ranks[i]]
		k := exam.Key{Step: ask.Step}
		if m.split(ask) {
			k.Site = ask.Sites[0]
		}
		o.OutOfOrder = append(o.OutOfOrder, m.place(k))
	}
	m.out.Order = o
}

// overallAsk is the first ask of a step that has no answer yet, for one answer at all sites.
func (m *marker) overallAsk(step exam.StepID, seen map[int]bool) (int, bool) {
	for i, ask := range m.routine.Asks {
		if ask.Step == step && !seen[i] {
			return i, true
		}
	}
	return 0, false
}

// split says that the routine asks the step at more than one place round the horse.
func (m *marker) split(ask exam.Ask) bool {
	n := 0
	for _, other := range m.routine.Asks {
		if other.Step == ask.Step {
			n++
		}
	}
	return n > 1
}
