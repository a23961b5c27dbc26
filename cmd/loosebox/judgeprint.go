package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"loosebox/exam"
	"loosebox/exam/intake"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

type judgedJSON struct {
	ID        string          `json:"id"`
	Class     string          `json:"class"`
	Level     *exam.Level     `json:"level"` // null where there was nothing to judge
	Remarks   []remarkJSON    `json:"remarks"`
	NotJudged []notJudgedJSON `json:"not_judged"`
	// DangerSigns are those from published studies, of an animal that is told, where they apply.
	DangerSigns *judge.DangerCount `json:"danger_signs,omitempty"`
}

type remarkJSON struct {
	Step     exam.StepID   `json:"step"`
	Site     exam.Site     `json:"site"`
	Value    string        `json:"value"`
	Unit     notation.Unit `json:"unit"`
	Level    exam.Level    `json:"level"`
	Low      *float64      `json:"low"`
	High     *float64      `json:"high"`
	Evidence exam.Evidence `json:"evidence"`
	Source   string        `json:"source"`
	Why      string        `json:"why"`
	Medicine string        `json:"medicine"`

	together bool // the value names its steps itself
}

type notJudgedJSON struct {
	Step exam.StepID `json:"step"`
	Site exam.Site   `json:"site"`
	Why  string      `json:"why"`

	notDone bool
}

func judgedOf(r intake.ExamRow, of *judge.Judge) judgedJSON {
	verdict := of.Visit(r.Visit, nil)
	j := judgedJSON{
		ID: r.ID, Class: string(r.Visit.Class().Name), Remarks: []remarkJSON{}, NotJudged: []notJudgedJSON{}, DangerSigns: verdict.Danger,
	}
	for _, m := range verdict.Remarks {
		j.Remarks = append(j.Remarks, remarkJSON{
			Step: m.Step, Site: m.Site, Value: m.Value, Unit: m.Unit, Level: m.Level, Low: m.Low, High: m.High,
			Evidence: m.Evidence, Source: m.Source, Why: m.Why, Medicine: m.Medicine, together: m.Combination || m.Injection > 0,
		})
	}
	for _, n := range verdict.NotJudged {
		j.NotJudged = append(j.NotJudged, notJudgedJSON{Step: n.Step, Site: n.Site, Why: n.Why})
	}
	for _, f := range r.Visit.Findings {
		if !f.Done() {
			j.NotJudged = append(j.NotJudged, notJudgedJSON{Step: f.Step, Site: f.Site, Why: string(f.NotDone), notDone: true})
		}
	}
	if verdict.Level > ranges.LevelUsual || isRated(of, r.Visit) {
		j.Level = &verdict.Level
	}
	return j
}

// isRated says that something was found of which it is known what is usual.
func isRated(of *judge.Judge, v exam.Visit) bool {
	standings, _ := of.Standings(v, nil)
	return slices.ContainsFunc(standings, func(s judge.Standing) bool { return s.Rated })
}

// nothingToJudge stands in the place of a level where no value was given.
const nothingToJudge = "nothing to judge"

// printJudged writes each exam with its remarks, then how many are at each level.
func (e *env) printJudged(list []judgedJSON) error {
	count, nothing := map[exam.Level]int{}, 0
	for _, j := range list {
		if j.Level == nil {
			nothing++
		} else {
			count[*j.Level]++
		}
		if err := e.printOne(j); err != nil {
			return err
		}
	}
	var parts []string
	for _, l := range []exam.Level{ranges.LevelTell, ranges.LevelRecheck, ranges.LevelNote, ranges.LevelUsual} {
		parts = append(parts, fmt.Sprintf("%s %d", l, count[l]))
	}
	if nothing > 0 {
		parts = append(parts, fmt.Sprintf("%s %d", nothingToJudge, nothing))
	}
	return e.printf("%s: %s\n", notation.Counted(len(list), "exam"), strings.Join(parts, " · "))
}

func (e *env) printOne(j judgedJSON) error {
	level := nothingToJudge
	if j.Level != nil {
		level = j.Level.String()
	}
	if err := e.printf("%s · %s · %s\n", j.ID, j.Class, level); err != nil {
		return err
	}
	for _, m := range j.Remarks {
		found := m.Value
		if !m.together {
			found = e.placeName(m.Step, m.Site) + " " + found
		}
		text := fmt.Sprintf("%s: %s. %s. (%s: %s)", m.Level, found, strings.TrimSuffix(m.Why, "."), m.Evidence, m.Source)
		if err := e.printf("%s\n", indented(text)); err != nil {
			return err
		}
	}
	if d := j.DangerSigns; d != nil {
		for _, line := range append([]string{d.Line()}, d.Lines()...) {
			if err := e.printf("%s\n", indented(line)); err != nil {
				return err
			}
		}
	}
	missing := 0
	for _, n := range j.NotJudged {
		if n.notDone {
			missing++
			continue
		}
		text := fmt.Sprintf("not judged: %s: %s", e.placeName(n.Step, n.Site), n.Why)
		if err := e.printf("%s\n", indented(text)); err != nil {
			return err
		}
	}
	if missing == 0 {
		return e.printf("\n")
	}
	return e.printf("%s\n\n", indented(notation.Counted(missing, "step")+" not done or not recorded"))
}

func (e *env) placeName(id exam.StepID, site exam.Site) string {
	name := string(id)
	if step, ok := e.steps.ByID(id); ok {
		name = strings.ToLower(step.Short)
	}
	if site != exam.NoSite && site != exam.Overall {
		name += " " + site.String()
	}
	return name
}

// indented breaks a text at the width of a page and sets it in by two columns.
func indented(text string) string {
	wrapped := ansi.Wordwrap(notation.CleanNote(text), pageWidth-4, "")
	return "  " + strings.ReplaceAll(wrapped, "\n", "\n    ")
}
