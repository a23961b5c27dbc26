package judge

import (
	"strings"

	"loosebox/exam"
)

// rule joins findings that mean more together than alone. To add a rule is to add one literal to rules.
type rule struct {
	name  string // unique; for tests and for people who read the table
	step  exam.StepID
	level exam.Level
	// when gives the findings that fit, in words, and whether the rule holds.
	when     func(p *picture) (shown string, ok bool)
	why      string
	sources  []string // codes of the ranges package
	evidence exam.Evidence
}

// rules lists every rule; what matters most comes first.
func rules() []rule { return nil }

// together applies every rule to the visit.
func (j *Judge) together(p *picture) []exam.Remark {
	var out []exam.Remark
	for i := range j.rules {
		r := &j.rules[i]
		shown, ok := r.when(p)
		if !ok {
			continue
		}
		cited := make([]string, len(r.sources))
		for k, code := range r.sources {
			cited[k] = j.table.Cite(code)
		}
		out = append(out, exam.Remark{
			Step: r.step, Level: r.level, Value: shown, Evidence: r.evidence, Source: strings.Join(cited, "; "),
			Why: r.why, Combination: true, Rank: i,
		})
	}
	return out
}
