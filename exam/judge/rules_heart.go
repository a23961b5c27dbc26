package judge

import (
	"slices"

	"loosebox/exam"
	"loosebox/ranges"
)

// heartRules: rhythm, murmurs, and a slow heart.
func heartRules() []rule {
	return []rule{
		{
			name: "uneven rhythm new to this horse", step: "heart.rhythm", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				now := p.having("heart.rhythm", "early", "irregular")
				before := p.before(exam.Key{Step: "heart.rhythm"})
				if len(before) == 0 || slices.ContainsFunc(before, uneven) {
					return nil
				}
				return all(now)
			},
			why:     "The rhythm is uneven and was even before. Tell the veterinarian before work or sedation.",
			sources: []string{"MCG15", "KJELD"}, evidence: ranges.Published,
		},
		{
			name: "slow heart with weakness or no pattern", step: "heart.rate", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				rate, ok := p.measured("heart.rate")
				if !ok || p.class.Young || rate.side != ranges.SideLow || rate.value >= 24-slack || rate.finding.Value.Bound == exam.Over || rate.finding.Value.Bound == exam.AtLeast {
					return nil
				}
				return all(one(rate, true), slices.Concat(
					dull(p), p.having("pulse.strength", "weak", "uneven"), p.having("heart.rhythm", "early", "irregular"),
				))
			},
			why:     "A heart under 24 with weakness, or without a pattern: tell the veterinarian.",
			sources: []string{"TRADE", "RAEK92"}, evidence: ranges.CommonPractice,
		},
		{
			name: "murmur with swelling under the belly", step: "heart.murmur", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return all(p.atLeast("heart.murmur", ranges.LevelNote), p.having("belly.distension", "swollen"))
			},
			why:     "A murmur with swelling under the belly: tell the veterinarian.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
		{
			name: "murmur new to this horse", step: "heart.murmur", level: ranges.LevelRecheck,
			when: func(p *judgedVisit) [][]*assessment {
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
func (p *judgedVisit) before(k exam.Key) []*exam.Finding {
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
