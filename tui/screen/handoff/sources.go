package handoff

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/handoff"
	"loosebox/exam/score"
)

// sources says where the numbers of the page come from: each finding that stands
// out, what the findings add up to, the time that reading takes.
func (s *screen) sources() []explain.Part {
	var out []explain.Part
	v := s.seen.Visit
	for _, w := range s.page.Worries {
		part := explain.Part{Head: w.Name, Lines: explain.Remark(w.Remark)}
		step, known := s.deps.Steps.ByID(w.Remark.Step)
		if f, ok := v.Finding(exam.Key{Step: w.Remark.Step, Site: w.Remark.Site}); ok && known && f.Done() && !w.Remark.Combination {
			part.Lines = nil
			asked := explain.Asked{Judge: s.deps.Judge, Step: step, Site: f.Site, Visit: v, Finding: &f, Earlier: s.seen.Earlier}
			for _, p := range explain.Parts(asked) {
				part.Lines = append(part.Lines, p.Lines...)
			}
		}
		out = append(out, part)
	}
	for _, sc := range score.Summary(v, s.seen.Earlier) {
		out = append(out, explain.Part{Head: sc.Name, Lines: []string{"range: " + sc.Range, fmt.Sprintf("source: %s (%s)", sc.Source, sc.Evidence)}})
	}
	return append(out, explain.Part{Head: "Time aloud", Lines: []string{
		fmt.Sprintf("%d words, read at %d a minute, an even pace (from memory)", s.page.Words, handoff.PerMinute),
	}})
}
