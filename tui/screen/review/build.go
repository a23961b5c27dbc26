package review

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/report"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// stripWidth is the width of the strip of a count: it fits the smallest window.
const stripWidth = 58

// build makes the lines: remarks by level, not done, left, notes, what could
// not be judged, and every finding in record order.
func (s *screen) build() {
	s.lines = nil
	s.shown = s.Visit.As(s.Deps.Settings.Units, s.Deps.Steps)
	s.addStruck()
	s.addAtOnce()
	s.addImported()
	s.addRemarks()
	s.addScores()
	s.addNotDone()
	s.addLeft()
	s.addNotes()
	s.addNotJudged()
	s.addInOneGo()
	s.addFindings()
	s.addLaptops()
}

// addLaptops says who wrote the visit on which laptop, where the practice has several.
func (s *screen) addLaptops() {
	if text := s.Visit.OnLaptops(); text != "" {
		s.heading("Written on")
		s.lines = append(s.lines, line{text: text, more: []string{text}})
	}
}

// addAtOnce says who had another exam of the horse open at the same time on another laptop.
func (s *screen) addAtOnce() {
	for _, o := range s.AtOnce {
		text := "Another exam of this horse was open at the same time: " + o.HeldBy() + "."
		s.lines = append(s.lines, line{text: text, more: []string{text, "Both exams stand. Ask each other what was given."}})
	}
}

// addInOneGo lists the answers that one key gave for the rest of an area.
func (s *screen) addInOneGo() {
	var lines []line
	for _, f := range s.shown.Findings {
		if step, ok := s.Deps.Steps.ByID(f.Step); ok && f.Value.InOneGo {
			lines = append(lines, line{text: s.name(f.Key()) + ": " + f.Value.Show(step), at: f.Key(), place: true, more: s.details(step, f)})
		}
	}
	if len(lines) > 0 {
		s.heading(fmt.Sprintf("Answered in one go, as \"the rest of this area looks usual\" (%d)", len(lines)))
		s.lines = append(s.lines, lines...)
	}
}

func (s *screen) heading(text string) { s.lines = append(s.lines, line{text: text, head: true}) }

func (s *screen) name(k exam.Key) string {
	step, ok := s.Deps.Steps.ByID(k.Step)
	if !ok {
		return string(k.Step)
	}
	if k.Site == exam.NoSite {
		return step.Short
	}
	return fmt.Sprintf("%s, %s", step.Short, k.Site)
}

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
			label("made of: ", strings.Join(sc.Used(), "; ")), label("not answered: ", strings.Join(sc.Missing(), "; ")),
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

func (s *screen) addNotDone() {
	first := true
	for _, f := range s.shown.Findings {
		if f.Done() {
			continue
		}
		if first {
			s.heading("Not done")
			first = false
		}
		reason := f.NotDone.String()
		if f.Note != "" {
			reason += ": " + f.Note
		}
		step, _ := s.Deps.Steps.ByID(f.Step)
		s.lines = append(s.lines, line{text: s.name(f.Key()) + ": " + reason, at: f.Key(), place: true, was: report.History(f, step)})
	}
}

func (s *screen) addLeft() {
	if len(s.Left) == 0 {
		return
	}
	s.heading(fmt.Sprintf("Not answered (%d)", len(s.Left)))
	for _, k := range s.Left {
		s.lines = append(s.lines, line{text: s.name(k), at: k, place: true})
	}
}

func (s *screen) addNotes() {
	if len(s.Visit.Notes) == 0 {
		return
	}
	s.heading("Notes")
	for _, n := range s.Visit.Notes {
		text := notation.CleanNote(n.Text)
		more := report.NoteHistory(n)
		if n.Added {
			text += " (added later)"
		} else if len(n.Before) > 0 {
			text += " (corrected)"
		}
		if n.Step != "" {
			text = s.name(exam.Key{Step: n.Step, Site: n.Site}) + ": " + text
		}
		s.lines = append(s.lines, line{text: text, more: []string{text}, was: more})
	}
}

func (s *screen) addNotJudged() {
	if len(s.Verdict.NotJudged) == 0 {
		return
	}
	s.heading("Recorded, not judged")
	for _, n := range s.Verdict.NotJudged {
		k := exam.Key{Step: n.Step, Site: n.Site}
		s.lines = append(s.lines, line{text: s.name(k) + ": " + n.Why, at: k, place: true, more: []string{n.Why}})
	}
}

// addImported says of a visit from a spreadsheet when and by whom it was imported.
func (s *screen) addImported() {
	if o, ok := intake.ReadOrigin(s.Visit.Source); ok {
		s.heading(notation.CleanLine("This visit was "+o.Words(), 0))
	}
}

// addStruck says first that a visit was struck, or was entered again instead of
// one that was.
func (s *screen) addStruck() {
	for _, text := range slices.Concat(report.Standing(s.Visit), report.Readings(s.Visit), withoutHandOff(s.Visit)) {
		s.lines = append(s.lines, line{text: text, more: []string{text}})
	}
}

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
	more := []string{fmt.Sprintf("%s, by %s at %s", f.Value.Show(step), notation.CleanLine(f.By, 40), f.At.Format("15:04:05"))}
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

// show opens where the line under the cursor comes from.
func (s *screen) show() {
	if s.cursor >= len(s.lines) {
		return
	}
	l := s.lines[s.cursor]
	var parts []explain.Part
	if len(l.whole) > 0 {
		parts = append(parts, explain.Part{Head: "What is said", Lines: l.whole})
	}
	step, ok := s.Deps.Steps.ByID(l.at.Step)
	if ok && l.place && !l.alone {
		a := explain.Asked{Judge: s.Deps.Judge, Step: step, Site: l.at.Site, Visit: s.Visit, Earlier: s.Earlier}
		if units := s.Deps.Settings.Units; len(units) > 0 && step.Prefer(units) != notation.Hands {
			a.Unit = step.Prefer(units)
		}
		if f, ok := s.Visit.Finding(l.at); ok && f.Done() {
			a.Finding = &f
		}
		parts = append(parts, explain.Parts(a)...)
	}
	if len(parts) > 0 {
		s.origin.Show(l.text, parts)
	}
}
