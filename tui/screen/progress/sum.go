package progress

import (
	"loosebox/exam/rehearse/progress"
)

// sum is what is worked out of a person's rehearsals, once: a trend tries every order of a short row.
type sum struct {
	usual  []*float64 // by measure; nil where none has it
	trends []progress.Trend
	weak   []progress.Weak
}

// mostAgain is how many things that go wrong again are named.
const mostAgain = 3

func (s *screen) sumOf(p progress.Person) sum {
	key := p.Name + "\x00" + s.routine
	if out, ok := s.sums[key]; ok {
		return out
	}
	out := sum{weak: p.Weak(mostAgain)}
	for _, m := range s.measures {
		out.trends = append(out.trends, p.Trend(m))
		var usual *float64
		if v, ok := p.Usual(m); ok {
			usual = &v
		}
		out.usual = append(out.usual, usual)
	}
	if s.sums == nil {
		s.sums = map[string]sum{}
	}
	s.sums[key] = out
	return out
}
