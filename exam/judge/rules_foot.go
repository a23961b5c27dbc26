package judge

import (
	"loosebox/exam"
	"loosebox/ranges"
)

func feet() []exam.Site {
	return []exam.Site{exam.LeftFore, exam.RightFore, exam.LeftHind, exam.RightHind}
}

// footRules: heat and pulse of the feet, together.
func footRules() []rule {
	return []rule{
		{
			name: "bounding pulses in two feet", step: "limb.digitalpulse", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				held := p.having("limb.digitalpulse", "bounding")
				if len(held) < 2 && !on(held, exam.Overall) {
					return nil
				}
				return all(held)
			},
			why:     "The digital pulse bounds in two feet or more. Do not make it walk; tell the veterinarian.",
			sources: []string{"VPRAC"}, evidence: ranges.PracticePage,
		},
		{
			name: "hot hoof and raised pulse in one foot", step: "hoof.heat", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return sameFoot(p.having("hoof.heat", "hot"), p.having("limb.digitalpulse", "easy", "strong", "bounding"))
			},
			why:     "A hot hoof with a raised digital pulse: a hot hoof is on a practice's list of reasons to call.",
			sources: []string{"SMTN"}, evidence: ranges.PracticePage,
		},
		{
			name: "both forefeet warm, pulses raised", step: "hoof.heat", level: ranges.LevelRecheck,
			when: func(p *judgedVisit) [][]*assessment {
				warm, raised := p.having("hoof.heat", "warm", "hot"), p.having("limb.digitalpulse", "easy", "strong", "bounding")
				for _, site := range []exam.Site{exam.LeftFore, exam.RightFore} {
					if !at(warm, site) || !at(raised, site) {
						return nil
					}
				}
				return all(warm, raised)
			},
			why:     "In a study warm forefeet with a stronger pulse came before sore feet. Feel again in an hour.",
			sources: []string{"BROWN"}, evidence: ranges.Published,
		},
		{
			name: "one foot's pulse stronger than the others", step: "limb.digitalpulse", level: ranges.LevelRecheck,
			when: func(p *judgedVisit) [][]*assessment {
				strong, rest := p.having("limb.digitalpulse", "strong", "bounding"), p.having("limb.digitalpulse", "none", "faint", "easy")
				if len(strong) != 1 || len(rest) < 2 || on(strong, exam.Overall) || on(rest, exam.Overall) {
					return nil
				}
				return all(strong)
			},
			why:     "One foot's pulse is stronger than the others. Check that foot; feel all four again.",
			sources: []string{"TRADE"}, evidence: ranges.CommonPractice,
		},
	}
}

// at says that the site itself, or the one answer for all, is among the findings.
func at(held []*assessment, site exam.Site) bool { return on(held, site) || on(held, exam.Overall) }

// sameFoot gives both groups where they meet in a foot.
func sameFoot(a, b []*assessment) [][]*assessment {
	for _, foot := range feet() {
		if at(a, foot) && at(b, foot) {
			return all(a, b)
		}
	}
	return nil
}
