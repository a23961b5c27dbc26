package report

import (
	"fmt"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// dates are the forms of a moment: a person reads one, a file holds the other.
type dates struct{ second, minute string }

func onPages() dates { return dates{"2 Jan 2006 15:04:05", "2 Jan 2006 15:04"} }
func inFiles() dates { return dates{"2006-01-02 15:04:05", "2006-01-02 15:04"} }

func (d dates) moment(at time.Time) string { return at.Format(d.second) }

// moment is a moment as a page says it.
func moment(at time.Time) string { return onPages().moment(at) }

// History says what stood at a place before, who corrected it, when and why, and
// that a finding was added late; nothing for a finding that was written once.
func History(f exam.Finding, step exam.Step) []string { return onPages().history(f, step) }

func (d dates) history(f exam.Finding, step exam.Step) []string {
	var lines []string
	for _, c := range f.Corrections() {
		old, next := c[0], c[1]
		lines = append(lines, fmt.Sprintf("before: %s, by %s at %s; corrected by %s at %s%s", Stood(old, step), notation.CleanLine(old.By, 0),
			d.moment(old.At), notation.CleanLine(next.By, 0), d.moment(next.At), because(next.Why)))
	}
	if f.Added {
		lines = append(lines, "added later"+d.late(f.At, f.By, f.Happened, f.Why))
	}
	if f.Disputed() {
		for _, o := range f.Differ {
			lines = append(lines, fmt.Sprintf("stands beside it: %s, by %s at %s; written on another laptop, not settled",
				Stood(o, step), notation.CleanLine(o.By, 0), d.moment(o.At)))
		}
	}
	return lines
}

// Stood is what a finding said, in words.
func Stood(f exam.Finding, step exam.Step) string {
	return notation.CleanLine(f.Said(step), 0)
}

func because(why exam.AmendReason) string {
	if why == "" {
		return ""
	}
	return ": " + notation.CleanLine(why.String(), 0)
}

// late says when and by whom a late entry was written, and of when it tells.
func (d dates) late(at time.Time, by string, happened *time.Time, why exam.AmendReason) string {
	text := ", entered at " + d.moment(at) + " by " + notation.CleanLine(by, 0)
	if happened != nil {
		text += ", happened at " + happened.Format(d.minute)
	}
	return text + because(why)
}

func noteHistory(w *writer, n exam.VisitNote) {
	for _, line := range NoteHistory(n) {
		w.wrap("      ", line)
	}
}

// NoteHistory is History for a note.
func NoteHistory(n exam.VisitNote) []string { return onPages().noteHistory(n) }

func (d dates) noteHistory(n exam.VisitNote) []string {
	var lines []string
	every := append(append([]exam.VisitNote(nil), n.Before...), n)
	for i, old := range every[:len(every)-1] {
		next := every[i+1]
		lines = append(lines, fmt.Sprintf("before: %s, by %s at %s; corrected by %s at %s%s", notation.CleanNote(old.Text), notation.CleanLine(old.By, 0),
			d.moment(old.At), notation.CleanLine(next.By, 0), d.moment(next.At), because(next.Why)))
	}
	if n.Added {
		lines = append(lines, "added later"+d.late(n.At, n.By, n.Happened, n.Why))
	}
	return lines
}

// Standing says of a visit that it was struck, or that it was entered again
// instead of a struck one; nothing for any other.
func Standing(v exam.Visit) []string { return onPages().standing(v) }

func (d dates) standing(v exam.Visit) []string {
	var lines []string
	if v.Struck != nil {
		lines = append(lines, "VOIDED: this visit does not count. "+d.struckWords(v))
	}
	if v.Entered != nil {
		lines = append(lines, "Entered "+d.enteredWords(v.Entered)+"; instead of visit "+string(v.Entered.Instead)+".")
	}
	return lines
}

// struckWords says who struck a visit, when and why, and where it was entered again.
func (d dates) struckWords(v exam.Visit) string {
	s := v.Struck
	text := fmt.Sprintf("Voided at %s by %s%s.", d.moment(s.At), notation.CleanLine(s.By, 0), because(s.Why))
	if s.Again != "" {
		text += " Entered again as visit " + string(s.Again) + "."
	}
	return text
}

func (d dates) enteredWords(e *exam.Entered) string {
	if e == nil {
		return ""
	}
	return fmt.Sprintf("again at %s by %s%s", d.moment(e.At), notation.CleanLine(e.By, 0), because(e.Why))
}

// afterwards lists every line that was written after the visit was closed, with
// its date, its name and its reason (calculations-and-procedures, 8.1: "Amendment
// dated, initialled").
func (p Page) afterwards(w *writer) {
	first := true
	for _, e := range p.Entries {
		if e.Amend == nil {
			continue
		}
		if first {
			w.heading("Added after the visit was closed")
			first = false
		}
		w.wrap(moment(e.At)+" ", notation.CleanNote(p.amended(e)))
	}
}

// amended says one line in words.
func (p Page) amended(e exam.Entry) string {
	what := e.Kind.String()
	if e.Corrects > 0 {
		what = fmt.Sprintf("entry %d corrects entry %d", e.Seq, e.Corrects)
	} else if e.Kind == exam.EntryAdded {
		what = fmt.Sprintf("entry %d added later", e.Seq)
	}
	if e.Step != "" {
		what += ", " + p.name(exam.Key{Step: e.Step, Site: e.Site})
	}
	if h := e.Amend.Happened; h != nil {
		what += ", happened at " + h.Format(onPages().minute)
	}
	return what + ", by " + e.By + because(e.Amend.Why)
}

// CorrectedFinding is what stood at a place before a correction: a value, or the
// reason why there was none; and who corrected it, when and why.
type CorrectedFinding struct {
	PlaceJSON
	Seq         int              `json:"seq"`
	At          time.Time        `json:"at"`
	By          string           `json:"by"`
	Value       *exam.Value      `json:"value"`
	NotDone     exam.Reason      `json:"not_done,omitempty"`
	CorrectedBy string           `json:"corrected_by"`
	CorrectedAt time.Time        `json:"corrected_at"`
	Why         exam.AmendReason `json:"why,omitempty"`
}

func replaced(f exam.Finding) []CorrectedFinding {
	var out []CorrectedFinding
	for _, pair := range f.Corrections() {
		old, next := pair[0], pair[1]
		c := CorrectedFinding{
			PlaceJSON: PlaceJSON{old.Step, old.Site}, Seq: old.Seq, At: old.At, By: old.By, NotDone: old.NotDone,
			CorrectedBy: next.By, CorrectedAt: next.At, Why: next.Why,
		}
		if old.Done() {
			c.Value = &old.Value
		}
		out = append(out, c)
	}
	return out
}
