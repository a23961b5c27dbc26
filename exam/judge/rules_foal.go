package judge

import (
	"slices"

	"loosebox/exam"
	"loosebox/ranges"
)

// foalRules: exam values, sections 1.2 and 10.3. They stand for animals under six months, and for donkeys of any age.
func foalRules() []rule {
	young := func(p *picture, groups ...[]*assessment) [][]*assessment {
		if !p.class.Young {
			return nil
		}
		return all(groups...)
	}
	return []rule{
		{
			name: "dull or off-feed donkey", step: "demeanour", level: ranges.LevelTell,
			when: func(p *picture) [][]*assessment {
				if p.visit.Horse.Kind != exam.AnimalDonkey {
					return nil
				}
				return some(dull(p), p.having("pain.signs", "offfeed"))
			},
			why:     "A dull donkey, or one that leaves its feed, is an emergency whatever the numbers say.",
			sources: []string{"DSIRL", "DSGI"}, evidence: ranges.Published,
		},
		{
			name: "foal off suck", step: "pain.signs", level: ranges.LevelTell,
			when: func(p *picture) [][]*assessment {
				return young(p, p.having("pain.signs", "offfeed"))
			},
			why:     "A foal that stops sucking is on a list of reasons to call at once.",
			sources: []string{"AQHA"}, evidence: ranges.Published,
		},
		{
			name: "foal with white or yellow gums", step: "gum.colour", level: ranges.LevelTell,
			when: func(p *picture) [][]*assessment {
				return young(p, p.having("gum.colour", "white", "yellow"))
			},
			why:     "White or yellow gums in a foal are on a list of reasons to call at once.",
			sources: []string{"AQHA"}, evidence: ranges.Published,
		},
		{
			name: "foal with a swollen joint or lame", step: "limb.look", level: ranges.LevelTell,
			when: func(p *picture) [][]*assessment {
				return young(p, slices.Concat(p.having("limb.look", "swollen", "joint", "notbearing"), p.having("gait.look", "lame", "refuses")))
			},
			why:     "A hot swollen joint or lameness in a foal is on a list of reasons to call at once.",
			sources: []string{"AQHA"}, evidence: ranges.Published,
		},
	}
}
