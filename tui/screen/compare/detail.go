package compare

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/compare"
)

// detail is what is said of the finding under the cursor.
type detail struct {
	value  string   // what was found, in full
	why    string   // why it is marked
	change string   // against the visit before; of the newest visit
	source []string // where the range and the remark come from
}

// look gathers the detail of a row at the visit of the cursor.
func (s *screen) look(row compare.Row) detail {
	c, cell := s.table.Columns[s.column], row.Cells[s.column]
	name := row.Name
	if row.Site != exam.NoSite {
		name += ", " + string(row.Site)
	}
	lead := fmt.Sprintf("%s, %s: ", exam.CleanLine(name, 0), c.At.Format("2006-01-02"))
	var d detail
	switch {
	case cell.Empty:
		d.value = lead + "not answered at this visit"
	case cell.NotDone != "":
		d.value = lead + "not done: " + exam.CleanLine(cell.NotDone, 0)
	default:
		d.value = lead + strings.Join(s.parts(row, c, cell), "; ")
	}
	if s.column == 0 {
		d.change = row.Change.Means
	}
	s.explain(&d, row)
	if s.column == 0 && row.Change.Verdict != compare.NoVerdict {
		d.source = append(d.source, row.Change.Noise.Explain()...)
	}
	return d
}

func (s *screen) parts(row compare.Row, c compare.Column, cell compare.Cell) []string {
	text := cell.Text
	if row.Unit != exam.NoUnit && row.Unit != exam.Points {
		text += " " + string(row.Unit)
	}
	parts := []string{text}
	if cell.AsTyped != "" {
		parts = append(parts, "typed "+cell.AsTyped)
	}
	if cell.Level > 0 {
		parts = append(parts, cell.Level.String())
	}
	if cell.Borderline {
		parts = append(parts, "borderline")
	}
	if cell.Corrected {
		old := cell.Before[len(cell.Before)-1]
		parts = append(parts, exam.CleanLine("corrected, before: "+old.Text, 0))
		if old.Why != "" {
			parts = append(parts, exam.CleanLine("because: "+old.Why, 0))
		}
	}
	for _, state := range c.Stirred {
		parts = append(parts, string(state))
	}
	if f, ok := s.visits[s.column].Finding(exam.Key{Step: row.Step, Site: row.Site}); ok && f.Note != "" {
		parts = append(parts, "note: "+exam.CleanLine(f.Note, 0))
	}
	return parts
}

// explain adds why a finding is marked and where that comes from.
func (s *screen) explain(d *detail, row compare.Row) {
	v := s.visits[s.column]
	step, _ := s.deps.Steps.ByID(row.Step)
	text, held := s.deps.Judge.Range(v.Class(), step, row.Unit)
	if held {
		d.source = append(d.source, fmt.Sprintf("range for %s: %s", v.Class().Name, text.Line))
		d.source = append(d.source, fmt.Sprintf("source: %s (%s)", text.Source, text.Evidence))
		if text.Words != "" {
			d.source = append(d.source, text.Words)
		}
	} else if text.Why != "" {
		d.why, d.source = text.Why, append(d.source, text.Why)
	}
	f, ok := v.Finding(exam.Key{Step: row.Step, Site: row.Site})
	if !ok || !f.Done() {
		return
	}
	r, ok := s.deps.Judge.Finding(v, f, s.visits[s.column+1:])
	if !ok {
		return
	}
	if r.Why != "" {
		d.why = r.Why
	}
	if r.Source != "" && r.Source != text.Source {
		d.source = append(d.source, fmt.Sprintf("of the remark: %s (%s)", r.Source, r.Evidence))
	}
	if r.Own != nil {
		d.source = append(d.source, fmt.Sprintf("own range %s to %s %s, from %d earlier visits",
			exam.FormatNumber(r.Own.Low, 1), exam.FormatNumber(r.Own.High, 1), r.Own.Unit, r.Own.Visits))
	}
	if len(d.source) == 0 {
		d.source = []string{"no range is held for this step: it is answered in words"}
	}
}
