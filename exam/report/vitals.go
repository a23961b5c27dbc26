package report

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// vitalSteps are the vital signs of the table, in the order in which they are read aloud; the first three always have a row.
func vitalSteps() []exam.StepID {
	return []exam.StepID{"temp.rectal", "heart.rate", "breath.rate", "gum.colour", "gum.refill", "gut.sounds", "limb.digitalpulse", "weight.body"}
}

const alwaysVital = 3

func (p Page) vitalTable(w *writer) {
	t := &Table{Head: []string{"", "now", "usual", "last"}, Now: 1}
	for i, id := range vitalSteps() {
		step, ok := p.Steps.ByID(id)
		if !ok {
			continue
		}
		text := p.said(p.Visit, step)
		if text == "" && i >= alwaysVital && !p.left(id) {
			continue
		}
		if text == "" {
			text = "not taken"
		}
		level := p.levelOf(id)
		t.Rows = append(t.Rows, TableRow{Level: level, Cells: []string{join(" ", level.Sign(), step.Name), text, p.usual(step), p.lastSaid(step)}})
	}
	w.heading("vital signs")
	w.block().Table = t
}

// said is what was found at every site of a step, like answers together; empty where nobody looked.
func (p Page) said(v exam.Visit, step exam.Step) string {
	var words []string
	at := map[string][]string{}
	for _, f := range v.Findings {
		if f.Step != step.ID {
			continue
		}
		text := "not done, " + f.WhyNot()
		if f.Done() {
			text = notation.CleanNote(f.Value.Show(step))
		}
		if f.Disputed() {
			text = notation.CleanNote(f.SaidBy(step)) + " (not settled)"
		}
		if len(at[text]) == 0 {
			words = append(words, text)
		}
		if f.Site != exam.NoSite && f.Site != exam.Overall {
			at[text] = append(at[text], f.Site.String())
		} else {
			at[text] = append(at[text], "")
		}
	}
	out := make([]string, len(words))
	for i, text := range words {
		sites := strings.Join(at[text], ", ")
		switch {
		case strings.Trim(sites, ", ") == "":
			out[i] = text
		case len(words) == 1 && len(at[text]) == len(step.Sites):
			out[i] = fmt.Sprintf("%s, all %d sites", text, len(step.Sites))
		default:
			out[i] = sites + ": " + text
		}
	}
	return strings.Join(out, "; ")
}

// usual is what is usual for the animal's class, in the unit of the finding.
func (p Page) usual(step exam.Step) string {
	if p.Judge == nil {
		return ""
	}
	unit := step.Prefer(p.read)
	if f, ok := p.Visit.First(step.ID); ok && f.Value.Number != nil {
		unit = f.Value.Number.Unit
	}
	r, held := p.Judge.Range(p.Visit.Class(), step, unit)
	if !held {
		return ""
	}
	return r.Usual
}

// lastSaid is the newest earlier answer with its day, and its time where that is the day of the visit.
func (p Page) lastSaid(step exam.Step) string {
	for _, v := range exam.LookedAt(p.Earlier) {
		if _, ok := v.First(step.ID); !ok {
			continue
		}
		form := "2 Jan 2006"
		if v.OpenedAt.Format(form) == p.Visit.OpenedAt.Format(form) {
			form += " 15:04"
		}
		return p.said(v, step) + ", " + v.OpenedAt.Format(form)
	}
	return ""
}

// levelOf is the highest level that a step has on its own.
func (p Page) levelOf(id exam.StepID) exam.Level {
	level := ranges.LevelUsual
	for _, r := range p.Verdict.Remarks {
		if r.Step == id && !r.Combination {
			level = max(level, r.Level)
		}
	}
	return level
}
