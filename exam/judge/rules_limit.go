package judge

import (
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Lines that no class and no context crosses unseen: about 41 C is an emergency (AUBURN13, a specialist's talk), above 80
// beats and above 45 breaths are the worst bands of a published score of grown horses (BREUER).
const (
	hottestC   = 41.0
	hottestF   = 105.8
	worstBeats = 81.0
	worstBreat = 46.0
)

// limitRules stand for every class, whatever the rows of a practice's own file leave out.
func limitRules() []rule {
	hot := func(lent bool) func(p *judgedVisit) [][]*assessment {
		return func(p *judgedVisit) [][]*assessment {
			a, ok := p.measured("temp.rectal")
			return all(one(a, ok && isHorse(p) != lent && reachesTemp(a, hottestC, hottestF)))
		}
	}
	worst := func(lent bool) func(p *judgedVisit) [][]*assessment {
		return func(p *judgedVisit) [][]*assessment {
			if p.class.Young || p.visit.Horse.Kind == exam.AnimalDonkey || lent == (p.class.Name == ranges.AdultLight) {
				return nil
			}
			return some(p.worst("heart.rate", worstBeats), p.worst("breath.rate", worstBreat))
		}
	}
	const emergency = "From about 41 C (105.8 F) it is an emergency (a specialist). Tell the veterinarian at once."
	const fast = "Over 80 beats or 45 breaths a minute: worst band of a published score. Tell the veterinarian."
	const ofHorses = " Read for grown horses."
	return []rule{
		{
			name: "41 C or more", step: "temp.rectal", level: ranges.LevelTell, when: hot(false), why: emergency,
			sources: []string{"AUBURN13"}, evidence: ranges.Published,
		},
		{
			name: "41 C or more in a donkey or mule", step: "temp.rectal", level: ranges.LevelTell, when: hot(true), why: emergency + ofHorses,
			sources: []string{"AUBURN13"}, evidence: ranges.CommonPractice,
		},
		{
			name: "worst band of heart or breathing", step: "heart.rate", level: ranges.LevelTell, when: worst(false), why: fast,
			sources: []string{"BREUER"}, evidence: ranges.Published,
		},
		{
			name: "worst band, lent from adult horses", step: "heart.rate", level: ranges.LevelTell, when: worst(true), why: fast + ofHorses,
			sources: []string{"BREUER"}, evidence: ranges.CommonPractice,
		},
		{
			name: "temperature beyond an adult's limits, none held", step: "temp.rectal", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				a, ok := p.measured("temp.rectal")
				return all(one(a, ok && beyondLent(a)))
			},
			why:     "No limit is known for this animal. For an adult horse: from 39.2 C and under 36.0 C (borrowed).",
			sources: []string{"NCSU", "HALL19"}, evidence: ranges.CommonPractice,
		},
		{
			name: "low temperature with another sign", step: "temp.rectal", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				a, ok := p.measured("temp.rectal")
				if !ok || p.class.Young || !low(a) {
					return nil
				}
				return all(one(a, true), slices.Concat(dull(p), p.having("pulse.strength", "weak"), p.having("gum.colour", "pale", "white")))
			},
			why:     "A low temperature with dullness, a weak pulse or pale gums is told at once.",
			sources: []string{"TRADE"}, evidence: ranges.CommonPractice,
		},
	}
}

// worst gives a rate at or above a line. After work fast breathing alone is no emergency while it goes easily.
func (p *judgedVisit) worst(step exam.StepID, from float64) []*assessment {
	a, ok := p.measured(step)
	if !ok || a.value < from-slack || a.finding.Value.Bound == exam.Under || a.finding.Value.Bound == exam.UpTo {
		return nil
	}
	if step == "heart.rate" && a.level == ranges.LevelTell {
		return nil // its own row says it already
	}
	if step == "breath.rate" && p.visit.Context.Has(exam.StateWorked) && len(p.having("breath.effort", "2", "3", "4")) == 0 {
		return nil
	}
	return one(a, true)
}

// reachesTemp says that a temperature is at or above a limit, in the unit it was typed in.
func reachesTemp(a *assessment, c, f float64) bool {
	if a.finding.Value.Bound == exam.Under || a.finding.Value.Bound == exam.UpTo {
		return false
	}
	if a.unit == notation.Fahrenheit {
		return a.value >= f-slack
	}
	return a.value >= c-slack
}

// beyondLent says that a temperature lies beyond an adult's limit on a side for which its own row holds none.
func beyondLent(a *assessment) bool {
	bound := a.finding.Value.Bound
	if bound != exam.NoBound && a.row == nil {
		return false
	}
	over := reachesTemp(a, 39.2, 102.5)
	under := a.unit == notation.Celsius && a.value < 36.0-slack || a.unit == notation.Fahrenheit && a.value < 96.8-slack
	if under && (bound == exam.AtLeast || bound == exam.Over) || !over && !under {
		return false
	}
	if a.row == nil {
		return true
	}
	side := ranges.SideLow
	if over {
		side = ranges.SideHigh
	}
	_, held := a.row.Tell.Edge(side)
	return !held
}
