package judge

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/ranges"
)

// What a sign of colic needs beside it to be told in a grown horse or pony: a practice's colic list (NEWC2) calls above 48
// beats, above 18 breaths and above 2 s. After half an hour a sign that is still there is told.
const (
	colicBeats    = 49.0
	colicBreaths  = 18.0
	colicRefillS  = 2.0
	stillThereMin = 25 // minutes; a look announced for half an hour may come a little early
	stillThereMax = 12 * time.Hour
)

// colicRules: severity of colic, before it is plain. One mild sign is looked at again; the first thing that goes beyond it
// tells. Where a sign is told by itself, none of them is needed.
func colicRules() []rule {
	first := func(rank int) func(p *judgedVisit) [][]*assessment {
		return func(p *judgedVisit) [][]*assessment {
			if at, held := p.firstCause(); at == rank {
				return held
			}
			return nil
		}
	}
	return []rule{
		{
			name: "sign of colic with a fast heart, fast breathing or slow refill", step: "pain.signs", level: ranges.LevelTell,
			when:    first(0),
			why:     "Colic with heart above 48, breathing above 18 or refill over 2 s is on a practice's list.",
			sources: []string{"NEWC2"}, evidence: ranges.PracticePage,
		},
		{
			name: "sign of colic with a figure to be taken again", step: "pain.signs", level: ranges.LevelTell, when: first(1),
			why:     "Colic with heart, breathing or refill beyond the limit: a colic list for horses, borrowed.",
			sources: []string{"NEWC2"}, evidence: ranges.CommonPractice,
		},
		{
			name: "sign of colic still there", step: "pain.signs", level: ranges.LevelTell, when: first(2),
			why:     "A sign of colic has lasted half an hour or longer. Tell the veterinarian.",
			sources: []string{"TRADE"}, evidence: ranges.CommonPractice,
		},
		{
			name: "sign of colic with sweating", step: "pain.signs", level: ranges.LevelTell, when: first(3),
			why:     "Cold patchy sweat with a sign of colic: sweat is on a practice's list of reasons to call.",
			sources: []string{"LAT36"}, evidence: ranges.PracticePage,
		},
		{
			name: "two signs of colic", step: "pain.signs", level: ranges.LevelTell, when: first(4),
			why:     "Two signs of colic at once: tell the veterinarian.",
			sources: []string{"TRADE"}, evidence: ranges.CommonPractice,
		},
		{
			name: "one mild sign of colic", step: "pain.signs", level: ranges.LevelRecheck, when: first(5),
			why:     "One mild sign of colic: check again in 30 minutes. If it is still there, tell the veterinarian.",
			sources: []string{"TRADE"}, evidence: ranges.CommonPractice,
		},
		{
			name: "colic with most signs not looked at", step: "pain.signs", level: ranges.LevelTell, ended: true,
			blank: func(p *judgedVisit) (string, []exam.Key) { return p.colicBlanks(4, len(sixSigns())) },
			why:   "Four or more of six signs of colic were not checked. Tell the veterinarian, or check them.",
			// The six of CURTIS and BOWDEN; that four are too many open is a measure of ours on 300 hospital horses.
			sources: []string{"CURTIS", "BOWDEN"}, evidence: ranges.CommonPractice,
		},
		{
			name: "colic with some signs not looked at", step: "pain.signs", level: ranges.LevelRecheck, ended: true,
			blank:   func(p *judgedVisit) (string, []exam.Key) { return p.colicBlanks(2, 3) },
			why:     "Two or three of six signs of colic were not checked. Check them before you call the horse usual.",
			sources: []string{"CURTIS", "BOWDEN"}, evidence: ranges.CommonPractice,
		},
	}
}

// colicTold says that a sign of colic, or a figure that goes with it, is told already: by itself or with another.
func (p *judgedVisit) colicTold() bool {
	for _, step := range []exam.StepID{"pain.signs", "gut.sounds", "belly.distension", "manure", "heart.rate", "breath.rate", "gum.refill", "gum.colour"} {
		if len(p.atLeast(step, ranges.LevelTell)) > 0 {
			return true
		}
	}
	inPain := len(pain(p)) > 0
	return inPain && len(p.having("gut.sounds", "none")) > 0 || inPain && len(p.having("belly.distension", "moderate")) > 0
}

// firstCause is the first of the colic rules that holds, by its place, and its findings; -1 where none does, or where
// colic is told already.
func (p *judgedVisit) firstCause() (int, [][]*assessment) {
	signs := p.colicSigns()
	if p.colicTold() {
		return -1, nil
	}
	heart, breaths := p.beyond("heart.rate", colicBeats), p.beyond("breath.rate", colicBreaths+boundStep)
	refill := p.beyond("gum.refill", colicRefillS+boundStep)
	if !p.colicFigures() {
		heart, breaths, refill = one(p.high("heart.rate")), one(p.high("breath.rate")), p.atLeast("gum.refill", ranges.LevelRecheck)
	}
	figures := beside(signs, heart, breaths, refill)
	switch {
	case len(signs) == 0:
		return -1, nil
	case len(figures) > 0 && p.colicFigures():
		return 0, figures
	case len(figures) > 0:
		return 1, figures
	}
	if held := stillThere(p); len(held) > 0 {
		return 2, held
	}
	if held := beside(signs, p.having("skin.look", "sweat")); len(held) > 0 {
		return 3, held
	}
	if p.colicCount() > 1 {
		return 4, signs
	}
	return 5, signs
}

// colicFigures says that the figures of the colic list fit the class: grown horses and ponies whose usual heart is slower.
func (p *judgedVisit) colicFigures() bool {
	return slices.Contains([]ranges.Class{ranges.AdultLight, ranges.Draft, ranges.Pony}, p.class.Name)
}

// beside gives the signs and those of the others that hold something; nothing where either is empty.
func beside(signs [][]*assessment, others ...[]*assessment) [][]*assessment {
	found := some(others...)
	if len(signs) == 0 || len(found) == 0 {
		return nil
	}
	return slices.Concat(signs, found)
}

// beyond gives a measure that reaches a figure, also where only a bound is known of it.
func (p *judgedVisit) beyond(step exam.StepID, from float64) []*assessment {
	a, ok := p.measured(step)
	if !ok || a.finding.Value.Bound == exam.Under || a.finding.Value.Bound == exam.UpTo {
		return nil
	}
	return one(a, a.value >= from-slack)
}

// colicBlanks names which of the six signs were not looked at, where from least to most of them were not.
func (p *judgedVisit) colicBlanks(least, most int) (value string, of []exam.Key) {
	if !p.class.GrownHorse() || !colicVisit(p.visit) {
		return "", nil
	}
	var names []string
	for _, s := range sixSigns() {
		if _, open := s.look(p); open {
			names, of = append(names, s.name.String()), append(of, exam.Key{Step: s.step})
		}
	}
	if len(names) < least || len(names) > most {
		return "", nil
	}
	return fmt.Sprintf("%d of %d not checked (%s)", len(names), len(sixSigns()), strings.Join(names, ", ")), of
}
