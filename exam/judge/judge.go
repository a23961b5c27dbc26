package judge

import (
	"cmp"
	"slices"

	"loosebox/exam"
	"loosebox/ranges"
)

// Judge judges findings by a table of ranges and a table of steps. It never changes and is safe for use by several
// goroutines.
type Judge struct {
	table *ranges.Table
	steps *exam.Steps
	order map[exam.StepID]int // place of a step in the record
	rules []rule
}

// New makes a judge of the given tables.
func New(t *ranges.Table, s *exam.Steps) *Judge {
	j := &Judge{table: t, steps: s, order: make(map[exam.StepID]int, len(s.All())), rules: rules()}
	for i, step := range s.All() {
		j.order[step.ID] = i
	}
	return j
}

// NotJudged is a finding that could not be set beside anything, and why.
type NotJudged struct {
	Step exam.StepID `json:"step"`
	Site exam.Site   `json:"site,omitempty"`
	Why  string      `json:"why"`
}

// Verdict is what the judge says about a visit.
type Verdict struct {
	// Remarks hold every remark of level note and above, highest level first; within a level combinations come first,
	// then the order of the record.
	Remarks []exam.Remark
	// NotJudged lists what could not be judged, in the order of the record.
	NotJudged []NotJudged
	// Level is the highest level of a remark; usual where there is none.
	Level exam.Level
}

// Visit judges every finding of a visit, alone and together. Earlier visits of the same horse come newest first; none
// is needed. The same input gives the same verdict, whatever the order of the findings.
func (j *Judge) Visit(v exam.Visit, earlier []exam.Visit) Verdict {
	p := j.look(&v, earlier)
	var out Verdict
	for i := range p.found {
		a := &p.found[i]
		if a.unjudged != "" {
			out.NotJudged = append(out.NotJudged, NotJudged{Step: a.finding.Step, Site: a.finding.Site, Why: a.unjudged})
		}
		if a.level >= ranges.LevelNote {
			out.Remarks = append(out.Remarks, j.remark(p, a))
		}
	}
	out.Remarks = append(out.Remarks, j.together(p)...)
	slices.SortStableFunc(out.Remarks, func(a, b exam.Remark) int {
		return cmp.Or(cmp.Compare(b.Level, a.Level), cmp.Compare(a.Rank, b.Rank))
	})
	if len(out.Remarks) > 0 {
		out.Level = out.Remarks[0].Level
	}
	return out
}

// Finding gives the remark of one finding at any level, usual included, so that a screen can show its range. It is
// false where there is nothing to say: not done, a note, or no range and no earlier visits.
func (j *Judge) Finding(v exam.Visit, f exam.Finding, earlier []exam.Visit) (exam.Remark, bool) {
	p := j.see(&v, earlier)
	a, ok := j.assess(p, &f)
	if !ok || !a.judged() {
		return exam.Remark{}, false
	}
	return j.remark(p, &a), true
}
