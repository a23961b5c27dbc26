package judge

import (
	"loosebox/exam"
	"loosebox/ranges"
)

// assessPlace assesses what stands at a place: of answers that did not know of each other
// the worst counts, of equal ones the newest.
func (j *Judge) assessPlace(p *judgedVisit, f *exam.Finding) (assessment, bool) {
	worst, held := j.assess(p, f)
	for i := range f.Differ {
		if a, ok := j.assess(p, &f.Differ[i]); ok && (!held || a.level > worst.level) {
			worst, held = a, true
		}
	}
	return worst, held
}

// disputed has a remark for each place at which answers differ that did not know of each
// other: somebody looks again, and chooses.
func (j *Judge) disputed(p *judgedVisit) []exam.Remark {
	var out []exam.Remark
	for _, f := range p.visit.Findings {
		if !f.Disputed() {
			continue
		}
		order, known := j.order[f.Step]
		if !known {
			continue
		}
		out = append(out, exam.Remark{
			Step: f.Step, Site: f.Site, Level: ranges.LevelRecheck, Value: f.SaidBy(j.list[order]), Rank: rankOf(order, f.Site),
			Why: "These answers come from two laptops that did not know of each other. The worst of them counts until one is chosen. Look again, and choose.",
		})
	}
	return out
}
