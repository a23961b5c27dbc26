package judge

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// assessPlace assesses what stands at a place: of answers that did not know of each other
// the worst counts, of equal ones the newest.
func (j *Judge) assessPlace(p *picture, f *exam.Finding) (assessment, bool) {
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
func (j *Judge) disputed(p *picture) []exam.Remark {
	var out []exam.Remark
	for _, f := range p.visit.Findings {
		if !f.Disputed() {
			continue
		}
		order, known := j.order[f.Step]
		if !known {
			continue
		}
		step := j.list[order]
		var said, lines []string
		all := f.Standing()
		slices.SortFunc(all, func(a, b exam.Finding) int { return a.Seq - b.Seq })
		for _, s := range all {
			text := s.Value.Show(step)
			if !s.Done() {
				text = "not done, " + s.NotDone.String()
			}
			said = append(said, text+" by "+s.By)
			lines = append(lines, fmt.Sprint(s.Seq))
		}
		out = append(out, exam.Remark{
			Step: f.Step, Site: f.Site, Level: ranges.LevelRecheck, Value: strings.Join(said, ", or "), Rank: rankOf(order, f.Site),
			Why:    "These answers come from two laptops that did not know of each other. The worst of them counts until one is chosen. Look again, and choose.",
			Source: "entries " + strings.Join(lines, " and ") + " of this visit", Evidence: ranges.CommonPractice,
		})
	}
	return out
}
