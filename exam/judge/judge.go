package judge

import (
	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Judge judges findings by a table of ranges and a table of steps. It never changes and is safe for use by several
// goroutines.
type Judge struct {
	table *ranges.Table
	list  []exam.Step         // in record order
	order map[exam.StepID]int // place of a step in list
	rules []rule
	units notation.Units
}

// Reads is the judge with its remarks in the units in which a person reads. What it says of a finding does not change: it
// is judged in the unit in which it was typed.
func (j *Judge) Reads(units notation.Units) *Judge {
	if j == nil { // a store that is only read has none
		return nil
	}
	other := *j
	other.units = units
	return &other
}

// New makes a judge of the given tables.
func New(t *ranges.Table, s *exam.Steps) *Judge {
	j := &Judge{table: t, list: s.All(), order: make(map[exam.StepID]int, len(s.All())), rules: rules()}
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
	// Danger counts the danger signs of an animal that is told, where a count applies; nil otherwise.
	Danger *DangerCount
}

// Visit judges every finding of a visit, alone and together. Earlier visits of the same horse come newest first; none
// is needed. The same input gives the same verdict, whatever the order of the findings. While the exam runs nothing is
// said of what was not looked at yet; a closed or imported visit is over.
func (j *Judge) Visit(v exam.Visit, earlier []exam.Visit) Verdict {
	return j.verdict(j.look(&v, earlier))
}

// Ended is Visit for an exam that somebody ends now: at the review, before a hand-off and at the close. What was not
// looked at then counts as well.
func (j *Judge) Ended(v exam.Visit, earlier []exam.Visit) Verdict {
	p := j.look(&v, earlier)
	p.ended = true
	return j.verdict(p)
}

func (j *Judge) verdict(p *judgedVisit) Verdict {
	together := append(j.together(p), j.disputed(p)...)
	differences := authorization.Differences(*p.visit)
	out := Verdict{Remarks: append(make([]exam.Remark, 0, len(differences)+len(together)+len(p.found)/4), differences...)}
	for level := ranges.LevelTell; level >= ranges.LevelNote; level-- {
		for i := range together {
			if together[i].Level == level {
				out.Remarks = append(out.Remarks, withMedicine(p, together[i]))
			}
		}
		for i := range p.found {
			if p.found[i].level == level {
				out.Remarks = append(out.Remarks, withMedicine(p, j.remark(p, &p.found[i])))
			}
		}
	}
	for i := range p.found {
		if a := &p.found[i]; a.unjudged != "" {
			out.NotJudged = append(out.NotJudged, NotJudged{Step: a.finding.Step, Site: a.finding.Site, Why: a.unjudged})
		}
	}
	if len(out.Remarks) > 0 {
		out.Level = out.Remarks[0].Level
	}
	if d, ok := j.danger(p); ok && out.Level == ranges.LevelTell {
		out.Danger = &d
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
	if a.mayEase(p) {
		whole := j.look(&v, earlier)
		whole.easeOne(&a)
	}
	return withMedicine(p, j.remark(p, &a)), true
}
