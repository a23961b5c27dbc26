package compare

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/explain"
	"loosebox/exam/notation"
)

// detail is what is said of the finding under the cursor.
type detail struct {
	value  string // what was found, in full
	why    string // why it is marked
	change string // against the visit before; of the newest visit
}

// look gathers the detail of a row at the visit of the cursor.
func (s *screen) look(row compare.StepRow) detail {
	c, cell := s.table.Columns[s.column], row.Cells[s.column]
	name := row.Name
	if row.Site != exam.NoSite {
		name += ", " + row.Site.String()
	}
	lead := fmt.Sprintf("%s, %s: ", notation.CleanLine(name, 0), s.table.Dates().Show(c.At))
	var d detail
	switch {
	case cell.Empty:
		d.value = lead + "not answered at this visit"
	case cell.NotDone != "":
		d.value = lead + "not done: " + notation.CleanLine(cell.NotDone.String(), 0)
	default:
		d.value = lead + strings.Join(s.parts(row, c, cell), "; ")
	}
	if s.column == 0 {
		d.change = row.Change.Means
	}
	s.explain(&d, row)
	return d
}

func (s *screen) parts(row compare.StepRow, c compare.Column, cell compare.Cell) []string {
	text := cell.Text
	if row.Unit != notation.NoUnit && row.Unit != notation.Points {
		text += " " + string(row.Unit)
	}
	if cell.Unsettled != "" {
		text = "not settled: " + notation.CleanLine(cell.Unsettled, 0)
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
		parts = append(parts, notation.CleanLine("corrected, before: "+old.Text, 0))
		if old.Why != "" {
			parts = append(parts, notation.CleanLine("because: "+old.Why.String(), 0))
		}
	}
	for _, state := range c.Stirred {
		parts = append(parts, state.String())
	}
	if f, ok := s.visits[s.column].Finding(exam.Key{Step: row.Step, Site: row.Site}); ok && f.Note != "" {
		parts = append(parts, "comment: "+notation.CleanLine(f.Note, 0))
	}
	return parts
}

// explain adds why a finding is marked.
func (s *screen) explain(d *detail, row compare.StepRow) {
	v := s.visits[s.column]
	step, _ := s.Deps.Steps.ByID(row.Step)
	if text, held := s.Deps.Judge.Range(v.Class(), step, row.Unit); !held {
		d.why = text.Why
	}
	f, ok := v.Finding(exam.Key{Step: row.Step, Site: row.Site})
	if !ok || !f.Done() {
		return
	}
	if r, ok := s.Deps.Judge.Finding(v, f, s.visits[s.column+1:]); ok && r.Why != "" {
		d.why = r.Why
	}
}

// show opens where the finding under the cursor comes from.
func (s *screen) show() {
	row, ok := s.at()
	if !ok {
		return
	}
	v := s.visits[s.column]
	a := explain.Subject{Judge: s.Deps.Judge, Site: row.Site, Visit: v, Earlier: s.visits[s.column+1:], Unit: row.Unit}
	if step, ok := s.Deps.Steps.ByID(row.Step); ok {
		a.Step = step
	} else {
		a.Step = exam.Step{ID: row.Step, Name: row.Name}
	}
	if f, ok := v.Finding(exam.Key{Step: row.Step, Site: row.Site}); ok && f.Done() {
		a.Finding = &f
	}
	s.origin.Show(s.detail.value, explain.Parts(a))
}
