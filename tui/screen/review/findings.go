package review

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/report"
)

// addFindings lists everything in record order, with what stood there before a correction.
func (s *screen) addFindings() {
	s.heading("All findings")
	for _, step := range s.Deps.Steps.All() {
		for _, f := range s.shown.Findings {
			if f.Step != step.ID || !f.Done() {
				continue
			}
			l := line{text: s.name(f.Key()) + ": " + f.Value.Show(step), at: f.Key(), place: true}
			if n := len(f.Before); n > 0 {
				l.text += " (corrected; before: " + report.Stood(f.Before[n-1], step) + ")"
			} else if f.Added {
				l.text += " (added later)"
			}
			if f.Value.InOneGo {
				l.text += " (in one go)"
			}
			l.more, l.was = s.details(step, f), report.History(f, step)
			s.lines = append(s.lines, l)
		}
	}
}

// details are how a finding was made.
func (s *screen) details(step exam.Step, f exam.Finding) []string {
	more := []string{fmt.Sprintf("%s, by %s at %s", f.Value.Show(step), notation.CleanLine(f.By, 40), f.At.In(s.Deps.Now().Location()).Format("15:04:05"))}
	if c := f.Value.Count; c != nil {
		how := c.Method.String()
		if c.HalfWidth > 0 {
			how += fmt.Sprintf(", +/- %s /min while counted, %d taps", notation.FormatNumber(c.HalfWidth, 2), c.Taps())
		}
		if c.WindowS > 0 {
			how += fmt.Sprintf(", %d in %s s", c.Counted, notation.FormatNumber(c.WindowS, 0))
		}
		if c.Evenness != "" {
			how += ", " + c.EvennessWords()
		}
		more = append(more, how)
		more = append(more, report.Strip(c, step.Heard == "breath", stripWidth)...)
	}
	if len(f.Value.TrialsS) > 1 {
		text := "all times:"
		for _, t := range f.Value.TrialsS {
			text += " " + notation.FormatNumber(t, 1)
		}
		more = append(more, text+" s; the median is kept")
	}
	if parts := f.Value.ShowParts(step); parts != "" {
		more = append(more, parts)
	}
	return more
}
