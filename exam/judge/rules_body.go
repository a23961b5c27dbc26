package judge

import (
	"loosebox/ranges"
)

// bodyRules: a mare in foal, and lost fluid.
func bodyRules() []rule {
	return []rule{
		{
			name: "discharge in a mare in foal", step: "udder.sheath", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				if !p.visit.Horse.InFoal {
					return nil
				}
				return all(p.having("udder.sheath", "discharge"))
			},
			why:     "Discharge in a mare in foal is told at once; gloves, and keep the mare apart.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
		{
			name: "slow skin tent with another sign of lost fluid", step: "skin.tent", level: ranges.LevelRecheck,
			when: func(p *judgedVisit) [][]*assessment {
				tent := p.atLeast("skin.tent", ranges.LevelNote)
				others := some(
					p.having("gum.moisture", "tacky", "dry"), p.atLeast("gum.refill", ranges.LevelRecheck), p.having("jugular.fill", "slow", "none"),
				)
				if len(tent) == 0 || len(others) == 0 {
					return nil
				}
				return append(others, tent)
			},
			why:     "A slow skin tent with another sign of fluid loss; the skin tent alone says little.",
			sources: []string{"PENNP", "AERA", "PRIT08"}, evidence: ranges.CommonPractice,
		},
	}
}
