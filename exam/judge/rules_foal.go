package judge

import (
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// foalRules stand for animals under six months, and for donkeys of any age.
func foalRules() []rule {
	young := func(p *judgedVisit, groups ...[]*assessment) [][]*assessment {
		if !p.class.Young {
			return nil
		}
		return all(groups...)
	}
	return []rule{
		{
			name: "dull or off-feed donkey", step: "demeanour", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				if p.visit.Horse.Kind != exam.AnimalDonkey {
					return nil
				}
				return some(dull(p), p.having("pain.signs", "offfeed"))
			},
			why:     "A dull donkey, or one off its feed, is an emergency whatever the numbers say.",
			sources: []string{"DSGI"}, evidence: ranges.Published,
		},
		{
			name: "ill newborn with a weak pulse, cold legs or a seizure", step: "pulse.strength", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				if !underThreeDays(p) {
					return nil
				}
				return some(p.having("pulse.strength", "weak"), p.having("limb.warmth", "cold"), p.having("demeanour", "seizure"))
			},
			why:     "A weak pulse, cold legs and a seizure are danger signs (1,068 ill foals under three days).",
			sources: []string{"FOAL25"}, evidence: ranges.Published,
		},
		{
			name: "hot foal that breathes fast", step: "temp.rectal", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				if weeks, ok := foalWeeks(p); !ok || weeks > 14 {
					return nil
				}
				return hotAndFast(p)
			},
			why:     "Above 39 C (102 F), over 40 breaths and changed lung sounds: ill in a study of foals.",
			sources: []string{"PRESC89"}, evidence: ranges.Published,
		},
		{
			name: "hot older foal that breathes fast", step: "temp.rectal", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				if weeks, ok := foalWeeks(p); !p.class.Young || ok && weeks <= 14 {
					return nil
				}
				return hotAndFast(p)
			},
			why:     "Above 39 C (102 F) with over 40 breaths: signs of illness in a study of foals, borrowed.",
			sources: []string{"PRESC89"}, evidence: ranges.CommonPractice,
		},
		{
			name: "foal's heart above 120 twice", step: "heart.rate", level: ranges.LevelTell,
			when:    twiceAbove120,
			why:     "A newborn's heart is above 120 at rest for the second time: a reason to call.",
			sources: []string{"HARTUGA"}, evidence: ranges.Published,
		},
		{
			name: "foal off suck", step: "pain.signs", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return young(p, p.having("pain.signs", "offfeed"))
			},
			why:     "A foal that stops sucking is on a list of reasons to call at once.",
			sources: []string{"AQHA"}, evidence: ranges.PracticePage,
		},
		{
			name: "foal with white or yellow gums", step: "gum.colour", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return young(p, p.having("gum.colour", "white", "yellow"))
			},
			why:     "White or yellow gums in a foal are on a list of reasons to call at once.",
			sources: []string{"AQHA"}, evidence: ranges.PracticePage,
		},
		{
			name: "foal with a swollen joint or lame", step: "limb.look", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				return young(p, slices.Concat(p.having("limb.look", "swollen", "joint", "notbearing"), p.having("gait.look", "lame", "refuses")))
			},
			why:     "A hot swollen joint or lameness in a foal is on a list of reasons to call at once.",
			sources: []string{"AQHA"}, evidence: ranges.PracticePage,
		},
	}
}

// underThreeDays says that the animal is a horse foal of less than three days.
func underThreeDays(p *judgedVisit) bool {
	return p.class.FirstWeek() && p.visit.OpenedAt.Before(p.visit.Horse.Birth.At.AddDate(0, 0, 3))
}

// foalWeeks is the age of a horse foal in weeks; false for another animal, or where it is not known to the month.
func foalWeeks(p *judgedVisit) (weeks float64, ok bool) {
	switch b := p.visit.Horse.Birth; b.Precision {
	case exam.BornMinute, exam.BornDay:
		return p.visit.OpenedAt.Sub(b.At).Hours() / (7 * 24), p.class.Foal()
	case exam.BornMonth, exam.BornYear, exam.BornEstimated, exam.BornFoal, exam.BornAdult, exam.BornUnknown:
	}
	return 0, false
}

// hotAndFast gives a temperature above 39 C (102 F) with more than 40 breaths a minute.
func hotAndFast(p *judgedVisit) [][]*assessment {
	hot, ok := p.measured("temp.rectal")
	return all(one(hot, ok && reachesTemp(hot, 39.1, 102.1)), p.beyond("breath.rate", 40+boundStep))
}

// twiceAbove120 looks for an earlier count above 120 of a foal in its first week, after its first six hours: in this visit,
// or in one of the last day.
func twiceAbove120(p *judgedVisit) [][]*assessment {
	if p.class.Name != ranges.FoalFirstDay && p.class.Name != ranges.FoalFirstWeek {
		return nil
	}
	now := p.beyond("heart.rate", 121)
	if len(now) == 0 {
		return nil
	}
	above := func(f *exam.Finding) bool {
		x, ok := f.Value.In(notation.PerMinute)
		return ok && f.Done() && x >= 121-slack
	}
	for i := range now[0].finding.Before {
		if above(&now[0].finding.Before[i]) {
			return all(now)
		}
	}
	for i := range p.earlier {
		e := &p.earlier[i]
		ago := p.visit.OpenedAt.Sub(e.OpenedAt)
		if f, ok := find(e, exam.Key{Step: "heart.rate"}); ok && e.ID != p.visit.ID && ago > 0 && ago <= 24*time.Hour && above(f) {
			return all(now)
		}
	}
	return nil
}
