package judge

import (
	"slices"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// fever is where fever begins for some classes: at or above C, or F, as typed.
type fever struct {
	classes  []ranges.Class
	c, f     float64
	source   string
	evidence exam.Evidence
}

// fevers: 38.5 C in grown horses (AHT), 38.9 C in young ones (ROBIN08: pony foals of 6-10 months and two-year-olds), above
// 39 C or 102 F in foals (HARTUGA for newborns, PRESC89 to 14 weeks). Above 38.0 C counts in a donkey (WVS), which hides
// illness. What was not read for a class is lent.
func fevers() []fever {
	return []fever{
		{[]ranges.Class{ranges.AdultLight, ranges.MareInFoal}, 38.5, 101.3, "AHT", ranges.Published},
		{[]ranges.Class{ranges.Draft, ranges.Pony, ranges.Miniature, ranges.SmallMareInFoal}, 38.5, 101.3, "AHT", ranges.CommonPractice},
		{[]ranges.Class{ranges.Weanling, ranges.TwoThree}, 38.9, 102.0, "ROBIN08", ranges.Published},
		{[]ranges.Class{ranges.Yearling, ranges.MuleWeanling}, 38.9, 102.0, "ROBIN08", ranges.CommonPractice},
		{
			[]ranges.Class{ranges.FoalFirstHour, ranges.FoalFirstHours, ranges.FoalFirstDay, ranges.FoalFirstWeek},
			39.0, 102.1, "HARTUGA", ranges.Published,
		},
		{[]ranges.Class{ranges.FoalFirstMonth}, 39.0, 102.1, "PRESC89", ranges.Published},
		{
			[]ranges.Class{
				ranges.FoalToSixMonths, ranges.FoalAgeUnknown, ranges.DonkeyFirstDay, ranges.DonkeyNewborn, ranges.DonkeyFirstMonth,
				ranges.DonkeyToSixMonths, ranges.DonkeyFoalUnknown, ranges.DonkeyYoung, ranges.MuleFoalFirstDay, ranges.MuleFoalFirstWeek,
				ranges.MuleFoalFirstMonth, ranges.MuleFoalSixMonths, ranges.MuleFoalUnknown,
			},
			39.0, 102.1, "PRESC89", ranges.CommonPractice,
		},
		{[]ranges.Class{ranges.DonkeyAdult}, 38.1, 100.5, "WVS", ranges.CommonPractice},
		{[]ranges.Class{ranges.Mule}, 38.6, 101.5, "MSU", ranges.CommonPractice},
	}
}

// Fever says whether a rectal temperature is a fever in a class, by the same
// limits as the remarks; false where no limit is held for the class.
func Fever(class ranges.Class, temp notation.Quantity) bool {
	for _, f := range fevers() {
		if !slices.Contains(f.classes, class) {
			continue
		}
		if temp.Unit == notation.Fahrenheit {
			return temp.Value >= f.f-slack
		}
		c, ok := temp.In(notation.Celsius)
		return ok && c.Value >= f.c-slack
	}
	return false
}

// of gives the temperature of the visit where it is a fever of this kind.
func (f fever) of(p *judgedVisit) []*assessment {
	a, ok := p.number("temp.rectal")
	if !ok || !slices.Contains(f.classes, p.class.Name) {
		return nil
	}
	limit := f.c
	if a.unit == notation.Fahrenheit {
		limit = f.f
	}
	return one(a, a.value >= limit-slack)
}

// anyFever gives the temperature where it is a fever in the horse's class.
func anyFever(p *judgedVisit) []*assessment {
	for _, f := range fevers() {
		if a := f.of(p); len(a) > 0 {
			return a
		}
	}
	return nil
}

// feverRules: what a fever means beside other signs.
func feverRules() []rule {
	rules := make([]rule, 0, len(fevers())+3)
	for _, f := range fevers() {
		rules = append(rules, rule{
			name: "fever and a sign that may be contagious: " + f.classes[0].String(), step: "temp.rectal", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				signs := some(
					p.having("cough", "single", "some", "fits"), p.having("nose.discharge", "mucus", "pus", "streaks"),
					p.having("node.jaw", "large", "sore", "burst", "throat"), p.having("manure", "cowpat", "watery"),
					p.having("gait.look", "sways"), p.having("posture", "wide"),
				)
				if hot := f.of(p); len(hot) > 0 && len(signs) > 0 {
					return slices.Insert(signs, 0, hot)
				}
				return nil
			},
			why:     "Fever and a sign that may be contagious. See this horse last: gloves, separate tools, nobody moves on or off.",
			sources: []string{f.source, "MSU", "UCDEHV2", "UCDSAFE"}, evidence: f.evidence,
		})
	}
	return append(rules,
		rule{
			name: "over 102 F and dull or off feed", step: "temp.rectal", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				if a, ok := p.number("temp.rectal"); ok && isHorse(p) {
					f, _ := notation.Quantity{Value: a.value, Unit: a.unit}.In(notation.Fahrenheit)
					return all(one(a, f.Value > 102+slack), slices.Concat(dull(p), p.having("pain.signs", "offfeed")))
				}
				return nil
			},
			why:     "Over 102 F with dullness or feed left is on a university's list of reasons to call.",
			sources: []string{"PURDUE"}, evidence: ranges.Published,
		},
		rule{
			name: "hot sore leg with fever or lameness", step: "limb.look", level: ranges.LevelTell,
			when: func(p *judgedVisit) [][]*assessment {
				leg := p.having("limb.look", "swollen", "joint")
				if hot := anyFever(p); len(hot) > 0 {
					return all(leg, hot)
				}
				return all(leg, p.having("gait.look", "lame", "refuses"))
			},
			why:     "One hot sore leg with fever or lameness is for the veterinarian.",
			sources: []string{"MCG"}, evidence: ranges.PracticePage,
		},
		rule{
			name: "low temperature in a bright horse", step: "temp.rectal", level: ranges.LevelRecheck,
			when: func(p *judgedVisit) [][]*assessment {
				a, ok := p.number("temp.rectal")
				if !ok || p.class.Young || !low(a) {
					return nil
				}
				return all(one(a, true), p.having("demeanour", "bright"))
			},
			why:     "A low reading in a bright horse: often manure or a shallow thermometer. Measure again first.",
			sources: []string{"MEMORY"}, evidence: ranges.FromMemory,
		},
	)
}

// isHorse leaves out donkeys and mules.
func isHorse(p *judgedVisit) bool {
	return p.visit.Horse.Kind != exam.AnimalDonkey && p.visit.Horse.Kind != exam.AnimalMule
}
