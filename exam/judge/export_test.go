package judge

import "loosebox/exam"

// RuleNames lists the names of the rules, in order.
func RuleNames() []string {
	var names []string
	for _, r := range rules() {
		names = append(names, r.name)
	}
	return names
}

// Held names the rules that hold at a visit.
func (j *Judge) Held(v exam.Visit, earlier []exam.Visit) []string {
	p := j.look(&v, earlier)
	var names []string
	for _, r := range j.rules {
		if _, _, ok := r.holds(p); ok {
			names = append(names, r.name)
		}
	}
	return names
}

// RuleSources lists the source codes of the rules, by name.
func RuleSources() map[string][]string {
	out := map[string][]string{}
	for _, r := range rules() {
		out[r.name] = r.sources
	}
	return out
}

// Rule is the remark-to-be of a rule, for tests.
type Rule struct {
	Name     string
	Step     exam.StepID
	Level    exam.Level
	Why      string
	Sources  []string
	Evidence exam.Evidence
}

// Rules lists every rule as data.
func Rules() []Rule {
	var out []Rule
	for _, r := range rules() {
		out = append(out, Rule{r.name, r.step, r.level, r.why, r.sources, r.evidence})
	}
	return out
}

// ColicKeys are the answers that are signs of colic.
func ColicKeys() map[exam.StepID][]string { return colicKeys() }
