package judge

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

func quadrants() []exam.Site {
	return []exam.Site{exam.LeftUpper, exam.LeftLower, exam.RightUpper, exam.RightLower}
}

// gutRules: gut sounds, gums and the shape of the belly, alone and with signs of pain.
func gutRules() []rule {
	return []rule{
		{
			name: "no gut sound anywhere", step: "gut.sounds", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				if !p.everywhere("gut.sounds", quadrants(), "none") {
					return nil
				}
				return all(p.having("gut.sounds", "none"))
			},
			why:     "No sound in any quadrant: absent gut sounds are a danger sign in a study of 117 colics.",
			sources: []string{"MICK24"}, evidence: ranges.Published,
		},
		{
			name: "silent quadrant with pain", step: "gut.sounds", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return all(p.having("gut.sounds", "none"), pain(p))
			},
			why:     "A quadrant without sound is a danger sign (1,016 colic visits), and there are signs of pain.",
			sources: []string{"CURTIS", "MICK24"}, evidence: ranges.Published,
		},
		{
			name: "signs of colic, fast heart, changed gums", step: "heart.rate", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return all(bellySigns(p), one(p.high("heart.rate")), p.atLeast("gum.colour", ranges.LevelRecheck))
			},
			why:     "A fast heart and a changed gum color are danger signs (941 colics). Tell the veterinarian.",
			sources: []string{"BOWDEN"}, evidence: ranges.Published,
		},
		{
			name: "distended belly with pain", step: "belly.distension", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return all(p.having("belly.distension", "moderate", "severe"), pain(p))
			},
			why:     "A distended belly with signs of pain is told at once.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
		{
			name: "sudden ease, faster heart", step: "pain.signs", level: ranges.LevelTell,
			when:    suddenEase,
			why:     "The severe pain has gone, but the heart is faster than it was then.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
		{
			name: "gut sounds reduced everywhere", step: "gut.sounds", level: ranges.LevelRecheck,
			when: func(p *judgedVisit) [][]*assessment {
				if !p.everywhere("gut.sounds", quadrants(), "none", "reduced") || p.everywhere("gut.sounds", quadrants(), "none") {
					return nil
				}
				return all(p.having("gut.sounds", "none", "reduced"))
			},
			why:     "Every quadrant is reduced or silent. Listen again; falling sounds count more.",
			sources: []string{"WIKIV"}, evidence: ranges.CommonPractice,
		},
	}
}

// bellySigns lists what makes a horse one with signs of colic.
func bellySigns(p *judgedVisit) []*assessment {
	if signs := pain(p); len(signs) > 0 {
		return signs
	}
	if signs := p.having("gut.sounds", "none"); len(signs) > 0 {
		return signs
	}
	return p.having("belly.distension", "moderate", "severe")
}

// suddenEase compares with a visit of the last 24 h (our span): severe pain then and none now, yet a heart rate that is
// higher by more than a count of 15 s times four can be off, 4 /min.
func suddenEase(p *judgedVisit) [][]*assessment {
	now, ok := p.number("heart.rate")
	calm := p.having("pain.signs", "none")
	if !ok || len(calm) == 0 {
		return nil
	}
	for i := range p.earlier {
		e := &p.earlier[i]
		ago := p.visit.OpenedAt.Sub(e.OpenedAt)
		if ago <= 0 || ago > 24*time.Hour {
			continue
		}
		signs, ok := find(e, exam.Key{Step: "pain.signs"})
		if !ok || !answered(signs, "pain.signs", "kicks", "rolls", "severe", "constant") {
			continue
		}
		rate, ok := find(e, exam.Key{Step: "heart.rate"})
		if !ok {
			continue
		}
		if then, ok := rate.Value.In(notation.PerMinute); ok && now.value > then+4 {
			return all(calm, one(now, true))
		}
	}
	return nil
}
