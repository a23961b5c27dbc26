package review

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/score"
	"loosebox/ranges"
)

func (s *screen) addRemarks() {
	switch {
	case s.Coverage.Answered == 0:
		s.heading(s.Coverage.Level(s.Verdict.Level))
	case len(s.Verdict.Remarks) == 0:
		s.heading(fmt.Sprintf("No answer so far is out of range (%s answered)", s.Coverage.Short()))
		return
	default:
		s.heading(s.Coverage.Level(s.Verdict.Level))
	}
	if s.Verdict.Level >= ranges.LevelTell && s.Deps.Patient == nil && s.Deps.Settings.Call() != "" {
		s.heading(s.Deps.Settings.Call())
	}
	if d := s.Verdict.Danger; d != nil {
		s.heading(d.Line())
		for _, l := range d.Lines() {
			s.heading("  " + l)
		}
	}
	last := exam.Level(-1)
	for _, r := range s.Verdict.Remarks {
		if r.Level != last && r.Level > ranges.LevelUsual {
			s.lines = append(s.lines, line{text: notation.Capital(r.Level.String()), head: true, level: r.Level})
			last = r.Level
		}
		text := s.name(exam.Key{Step: r.Step, Site: r.Site})
		switch {
		case r.Injection > 0:
			text = notation.CleanNote(r.Value + ": " + r.Why)
		case r.Value != "":
			text += ": " + r.Value
		}
		if r.Borderline {
			text += " (borderline)"
		}
		more := []string{r.Why}
		if r.Own != nil {
			more = append(more, fmt.Sprintf("This horse's range: %s %s, from %d visits.", notation.Between(r.Own.Low, r.Own.High, 1), r.Own.Unit, r.Own.Visits))
		}
		if r.Source != "" || r.Evidence != "" {
			more = append(more, fmt.Sprintf("%s: %s", r.Evidence, r.Source))
		}
		l := line{text: text, at: exam.Key{Step: r.Step, Site: r.Site}, place: r.Step != "", level: r.Level, more: more}
		if !r.Combination && r.Injection == 0 {
			l.usual, l.past = s.beside(l.at)
		}
		if f, ok := s.shown.Finding(l.at); ok && len(f.Before) > 0 && !r.Combination {
			step, _ := s.Deps.Steps.ByID(f.Step)
			l.text += " (corrected)"
			l.was = report.History(f, step)
		}
		if r.Combination {
			l.whole = explain.Remark(r)
		}
		s.lines = append(s.lines, l)
	}
}

// addScores lists what the findings add up to, each with what it was made of,
// what is open, what it can be and where it comes from.
func (s *screen) addScores() {
	for i, sc := range score.Summary(s.Visit, s.Earlier) {
		if i == 0 {
			s.heading("Scores and counts")
		}
		l := line{text: sc.Name + ": " + sc.Words, at: sc.At, place: sc.At.Step != "", level: sc.Level, more: []string{sc.Words}}
		for _, more := range []string{
			label("made of: ", strings.Join(sc.Used(), "; ")), label("not used: ", strings.Join(sc.Missing(), "; ")),
			"range: " + sc.Range, sc.Evidence.String() + ": " + sc.Source, sc.Note,
		} {
			if more != "" {
				l.more = append(l.more, more)
			}
		}
		l.whole, l.alone = sc.Lines(), true
		s.lines = append(s.lines, l)
	}
}

func label(name, text string) string {
	if text == "" {
		return ""
	}
	return name + text
}
