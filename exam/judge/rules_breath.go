package judge

import (
	"fmt"

	"loosebox/exam/score"
	"loosebox/ranges"
)

// breathRules: effort counts for more than the rate.
func breathRules() []rule {
	quiet := score.QuietMin()
	return []rule{
		{
			name: "labored breathing at a rate that is no alarm", step: "breath.effort", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				rate, ok := p.number("breath.rate")
				return all(p.having("breath.effort", "2", "3", "4"), one(rate, ok && rate.level <= ranges.LevelNote))
			},
			why:     "Labored breathing is on a practice's list of reasons to call, whatever the rate.",
			sources: []string{"LAT36", "ASTHMA"}, evidence: ranges.PracticePage,
		},
		{
			name: "more breaths than heart beats", step: "breath.rate", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				breaths, okB := p.number("breath.rate")
				beats, okH := p.number("heart.rate")
				if p.class.Young || !okB || !okH || breaths.value <= beats.value {
					return nil
				}
				return all(one(breaths, true), one(beats, true))
			},
			why:     fmt.Sprintf("It breathes faster than its heart beats. Tell the veterinarian; count both again at rest in %d-%d min.", quiet[0], quiet[1]),
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
		{
			name: "wheals with changed breathing", step: "skin.look", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				skin := p.having("skin.look", "hives", "faceswelling")
				if effort := p.atLeast("breath.effort", ranges.LevelNote); len(effort) > 0 {
					return all(skin, effort)
				}
				return all(skin, one(p.high("breath.rate")))
			},
			why:     "Wheals or a swollen face together with changed breathing are told at once.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
	}
}
