package judge

import (
	"slices"

	"loosebox/exam"
	"loosebox/ranges"
)

// heartRules: exam values, sections 6.3, 6.4 and 13.2.
func heartRules() []rule {
	return []rule{
		{
			name: "uneven rhythm new to this horse", step: "heart.rhythm", level: ranges.LevelTell,
			when: func(p *picture) [][]*assessment {
				now := p.having("heart.rhythm", "early", "irregular")
				before := p.before(exam.Key{Step: "heart.rhythm"})
				if len(before) == 0 || slices.ContainsFunc(before, uneven) {
					return nil
				}
				return all(now)
			},
			why:     "The rhythm is uneven and was not at its earlier visits; an irregular heart is on a practice's list of reasons to call.",
			sources: []string{"LAT36"}, evidence: ranges.Published,
		},
		{
			name: "murmur with swelling under the belly", step: "heart.murmur", level: ranges.LevelTell,
			when: func(p *picture) [][]*assessment {
				return all(p.atLeast("heart.murmur", ranges.LevelNote), p.having("belly.distension", "swollen"))
			},
			why:     "A murmur together with swelling under the belly goes to the veterinarian.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
		{
			name: "murmur new to this horse", step: "heart.murmur", level: ranges.LevelRecheck,
			when: func(p *picture) [][]*assessment {
				var fresh []*assessment
				for _, a := range p.atLeast("heart.murmur", ranges.LevelNote) {
					before := p.before(a.finding.Key())
					if len(before) > 0 && !slices.ContainsFunc(before, func(f *exam.Finding) bool { return !answered(f, "heart.murmur", "0") }) {
						fresh = append(fresh, a)
					}
				}
				return all(fresh)
			},
			why:     "A murmur that was not heard at earlier visits goes to the hand-off.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
	}
}

func uneven(f *exam.Finding) bool {
	return answered(f, "heart.rhythm", "early", "irregular", "unsure")
}

// before lists what earlier visits found at a place; open visits do not count.
func (p *picture) before(k exam.Key) []*exam.Finding {
	var out []*exam.Finding
	for i := range p.earlier {
		e := &p.earlier[i]
		if e.ID == p.visit.ID || !(e.Closed() || e.Source != "") {
			continue
		}
		if f, ok := find(e, k); ok {
			out = append(out, f)
		}
	}
	return out
}
