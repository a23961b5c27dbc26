package review

import (
	"fmt"
	"slices"

	"loosebox/exam"
	"loosebox/exam/explain"
	"loosebox/exam/intake"
	"loosebox/exam/notation"
	"loosebox/exam/report"
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
		text := "Another exam of this horse was open at the same time: " + o.HeldBy(s.Deps.Now()) + "."
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
		text := s.Visit.NoteText(n)
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

// show opens where the line under the cursor comes from.
func (s *screen) show() {
	if s.cursor >= len(s.lines) {
		return
	}
	l := s.lines[s.cursor]
	var parts []explain.Section
	if len(l.whole) > 0 {
		parts = append(parts, explain.Section{Head: "What is said", Lines: l.whole})
	}
	step, ok := s.Deps.Steps.ByID(l.at.Step)
	if ok && l.place && !l.alone {
		a := explain.Subject{Judge: s.Deps.Judge, Step: step, Site: l.at.Site, Visit: s.Visit, Earlier: s.Earlier}
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
