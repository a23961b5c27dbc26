package report

import (
	"fmt"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func (p Page) notDone(w *writer) {
	first := true
	for _, f := range p.Visit.Findings {
		if f.Done() {
			continue
		}
		if first {
			w.heading("Not done")
			first = false
		}
		text := f.NotDone.String()
		if f.Note != "" {
			text += ": " + notation.CleanNote(f.Note)
		}
		w.wrap(fmt.Sprintf("%-34s ", p.name(f.Key())), text)
		step, _ := p.Steps.ByID(f.Step)
		for _, line := range History(f, step) {
			w.wrap("    ", line)
		}
	}
	for i, k := range p.Left {
		if i == 0 {
			w.heading("Not answered")
		}
		w.line(p.name(k))
	}
}

func (p Page) rest(w *writer) {
	for i, n := range p.Verdict.NotJudged {
		if i == 0 {
			w.heading("Recorded, not judged")
		}
		w.wrap(fmt.Sprintf("%-34s ", p.name(exam.Key{Step: n.Step, Site: n.Site})), n.Why)
	}
	first := true
	for _, n := range p.Visit.Notes {
		if n.Silent() {
			continue
		}
		if n.Step != "" {
			if f, ok := p.Visit.Finding(exam.Key{Step: n.Step, Site: n.Site}); ok && f.Done() {
				continue // shown under its finding
			}
		}
		if first {
			w.heading("Notes")
			first = false
		}
		w.wrap(n.At.Format("15:04 "), p.Visit.NoteText(n))
		noteHistory(w, n)
	}
}
