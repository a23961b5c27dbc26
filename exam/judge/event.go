package judge

import (
	"loosebox/exam"
	"loosebox/exam/score"
)

// assessEvent sets a milestone of a newborn against the time since its birth.
func (a *assessment) assessEvent(p *judgedVisit) {
	m, ok := score.MilestoneOf(a.finding.Step)
	if !ok || len(a.finding.Value.Words) == 0 {
		a.unjudged = "no due time is known for it"
		return
	}
	state, why := m.Found(*a.finding, p.visit.Horse.Birth)
	if why != "" {
		a.unjudged = why
		return
	}
	a.level, a.milestone = state.Level, &state
}

func (a *assessment) milestoneRemark(r *exam.Remark) {
	r.Why, r.Source, r.Evidence = a.milestone.Sentence(), a.milestone.Source, a.milestone.Evidence
}
