package desk

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/handoff"
	"loosebox/exam/score"
)

// PageSources says where the numbers of a hand-off come from: each finding that
// stands out, what the findings add up to, the time that reading takes.
func (d Desk) PageSources(s Judged, page handoff.Page) []explain.Section {
	var out []explain.Section
	for _, w := range page.Worries {
		part := explain.Section{Head: w.Name, Lines: explain.Remark(w.Remark)}
		step, known := d.Steps.ByID(w.Remark.Step)
		f, found := s.Visit.Finding(exam.Key{Step: w.Remark.Step, Site: w.Remark.Site})
		if known && found && f.Done() && !w.Remark.Combination {
			part.Lines = nil
			for _, p := range explain.Parts(explain.Subject{Judge: d.Judge, Step: step, Site: f.Site, Visit: s.Visit, Finding: &f, Earlier: s.Earlier}) {
				part.Lines = append(part.Lines, p.Lines...)
			}
		}
		out = append(out, part)
	}
	for _, sc := range score.Summary(s.Visit, s.Earlier) {
		out = append(out, explain.Section{Head: sc.Name, Lines: []string{"range: " + sc.Range, fmt.Sprintf("source: %s (%s)", sc.Source, sc.Evidence)}})
	}
	return append(out, explain.Section{Head: "Time aloud", Lines: []string{
		fmt.Sprintf("%d words, read at %d a minute, an even pace (from memory)", page.Words, handoff.PerMinute),
	}})
}
