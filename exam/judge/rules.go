package judge

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// rule joins findings that mean more together than alone. To add a rule is to add one literal to one of the lists; a
// test walks them all and fails where a step, a choice key or a source is not known.
type rule struct {
	name  string      // unique, for whoever reads the table
	step  exam.StepID // where its remark stands
	level exam.Level
	// when lists the findings that make the rule hold; none where it does not. A rule about what was not looked at has
	// blank instead: the words for it and the places, empty where it does not hold.
	when  func(p *judgedVisit) [][]*assessment
	blank func(p *judgedVisit) (value string, of []exam.Key)
	// ended says that the rule waits until the exam is over: a step that is still to come is no blank.
	ended    bool
	why      string
	sources  []string // codes of the ranges package
	evidence exam.Evidence
}

// rules lists every rule; among those of one level what matters most comes first.
func rules() []rule {
	return slices.Concat(
		limitRules(), gutRules(), colicRules(), breathRules(), feverRules(), foalRules(), footRules(), heartRules(), bodyRules(),
	)
}

// holds says whether the rule holds at a visit, by which findings or in which words, and where they stand.
func (r *rule) holds(p *judgedVisit) (value string, of []exam.Key, ok bool) {
	if r.ended && !p.ended {
		return "", nil, false
	}
	if r.blank != nil {
		value, of = r.blank(p)
		return value, of, len(of) > 0
	}
	held := r.when(p)
	if len(held) == 0 {
		return "", nil, false
	}
	return p.shown(held...), places(held), true
}

// together applies every rule to the visit.
func (j *Judge) together(p *judgedVisit) []exam.Remark {
	var out []exam.Remark
	for i := range j.rules {
		r := &j.rules[i]
		value, of, ok := r.holds(p)
		if !ok {
			continue
		}
		cited := make([]string, len(r.sources))
		for k, code := range r.sources {
			cited[k] = j.table.Cite(code)
		}
		out = append(out, exam.Remark{
			Step: r.step, Level: r.level, Value: value, Evidence: r.evidence, Source: strings.Join(cited, "; "),
			Why: j.oneUnit(r.why), Combination: true, Of: of, Rank: i,
		})
	}
	return out
}

// places are where the findings of the groups stand.
func places(held [][]*assessment) []exam.Key {
	var out []exam.Key
	for _, a := range slices.Concat(held...) {
		out = append(out, a.finding.Key())
	}
	return out
}

// all gives the groups where each of them holds a finding; none otherwise.
func all(groups ...[]*assessment) [][]*assessment {
	for _, g := range groups {
		if len(g) == 0 {
			return nil
		}
	}
	return groups
}

// some gives those groups that hold a finding.
func some(groups ...[]*assessment) [][]*assessment {
	return slices.DeleteFunc(groups, func(g []*assessment) bool { return len(g) == 0 })
}

// one makes a group of one finding, or none.
func one(a *assessment, ok bool) []*assessment {
	if !ok {
		return nil
	}
	return []*assessment{a}
}

// pain lists the signs of pain; curling the lip, sweating and leaving feed alone are none.
func pain(p *judgedVisit) []*assessment {
	return p.having("pain.signs", "flank", "paws", "stretches", "teeth", "kicks", "updown", "rolls", "mild", "severe", "constant")
}

// dull lists a demeanour below quiet.
func dull(p *judgedVisit) []*assessment {
	return p.having("demeanour", "dull", "unresponsive", "down")
}

// low says that a number lies at the recheck or tell level on the low side.
func low(a *assessment) bool {
	return a.side == ranges.SideLow && a.level >= ranges.LevelRecheck
}

// answered says that an earlier finding of the step holds one of the choice keys.
func answered(f *exam.Finding, step exam.StepID, keys ...string) bool {
	return f.Step == step && slices.ContainsFunc(keys, f.Value.Has)
}
