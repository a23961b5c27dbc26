package compare

import (
	"cmp"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
)

func compareKeys(a, b exam.Key) int {
	return cmp.Or(cmp.Compare(a.Step, b.Step), cmp.Compare(a.Site, b.Site))
}

// makeRow fills a row; every holds the visits of the columns first, then the earlier ones.
func makeRow(k exam.Key, every []exam.Visit, found []finder, units map[notation.Unit]notation.Unit, j *judge.Judge, s *exam.Steps) StepRow {
	step, ok := s.ByID(k.Step)
	if !ok {
		step = exam.Step{ID: k.Step, Name: string(k.Step), Decimals: 2}
	}
	r := StepRow{Step: k.Step, Site: k.Site, Name: step.Name, Decimals: step.Decimals, Cells: make([]Cell, len(found))}
	readings := make([]reading, len(every))
	for i := range every {
		readings[i] = read(&every[i], k, step)
		if r.Unit == notation.NoUnit && readings[i].has {
			r.Unit = readings[i].quantity.Unit
		}
	}
	if unit, set := units[step.Unit]; set && r.Unit != notation.NoUnit {
		if _, same := (notation.Quantity{Unit: r.Unit}).In(unit); same {
			r.Unit = unit
		}
	}
	for i := range readings {
		readings[i].convert(r.Unit)
	}
	for i := range r.Cells {
		r.Cells[i] = makeCell(&readings[i], r.Unit, step, found[i].at(k))
	}
	if text, ok := j.Range(every[0].Class(), step, r.Unit); ok && text.Unit == r.Unit {
		r.Low, r.High = text.Low, text.High
	}
	if step.Kind.Measured() && r.Unit != notation.NoUnit {
		if own, ok := j.OwnAt(every[0], k, r.Unit, every[1:]); ok {
			r.Own = &own
		}
	}
	r.Change = change(j, readings, step, r.Unit, every[1:])
	return r
}

// reading is what one visit has at a place.
type reading struct {
	visit    *exam.Visit
	finding  *exam.Finding     // nil where the visit has no entry
	quantity notation.Quantity // as typed; a score for a scale
	has      bool              // there is a number
	value    float64           // in the row's unit, once converted
}

func read(v *exam.Visit, k exam.Key, step exam.Step) reading {
	r := reading{visit: v}
	for i := range v.Findings {
		if f := &v.Findings[i]; f.Step == k.Step && f.Site == k.Site {
			r.finding = f
		}
	}
	if r.finding == nil || r.finding.Disputed() { // of two answers that nobody has settled none is the number of the visit
		return r
	}
	return r.numbered(step)
}

// numbered is the reading with the number of its finding.
func (r reading) numbered(step exam.Step) reading {
	if !r.finding.Done() {
		return r
	}
	value := &r.finding.Value
	if step.Kind == exam.KindScale && value.Number == nil && len(value.Words) == 1 {
		if c, ok := step.Choice(value.Words[0]); ok {
			r.quantity, r.has = notation.Quantity{Value: c.Score, Unit: notation.Points}, true
		}
		return r
	}
	if value.Number == nil {
		return r
	}
	r.quantity = *value.Number
	if r.quantity.Unit == notation.NoUnit {
		r.quantity.Unit = notation.Points
	}
	_, r.has = value.In(value.Number.Unit) // false for what is no number
	return r
}

// convert brings the number to the row's unit, or drops it where it cannot be.
func (r *reading) convert(to notation.Unit) {
	if !r.has {
		return
	}
	q, ok := r.quantity.In(to)
	r.value, r.has = q.Value, ok
}

// every is what each of the answers says that stand at a place, the oldest first.
func every(r *reading, unit notation.Unit, step exam.Step) string {
	all := r.finding.Standing()
	slices.SortFunc(all, func(a, b exam.Finding) int { return a.Seq - b.Seq })
	said := make([]string, len(all))
	for i := range all {
		one := reading{visit: r.visit, finding: &all[i]}.numbered(step)
		one.convert(unit)
		said[i] = all[i].Said(step)
		if one.has && step.Kind.Measured() {
			said[i] = notation.FormatNumber(one.value, step.Decimals) + all[i].Value.Weight.Mark()
		}
	}
	return strings.Join(said, " or ")
}

func makeCell(r *reading, unit notation.Unit, step exam.Step, standing judge.Standing) Cell {
	if r.finding == nil {
		return Cell{Empty: true}
	}
	f := r.finding
	c := Cell{NotDone: f.NotDone, Corrected: len(f.Before) > 0, Before: was(f, step)}
	if !f.Done() {
		return c
	}
	c.Level, c.Rated, c.Borderline = standing.Level, standing.Rated, standing.Borderline
	c.Text = f.Value.Show(step)
	if f.Disputed() {
		c.Unsettled, c.Text = notation.CleanNote(f.SaidBy(step)), notation.CleanLine(every(r, unit, step), 0)
		return c
	}
	if standing.Unjudged != "" || step.Kind == exam.KindNote || step.Kind == "" {
		c.Text = notation.CleanLine(c.Text, 0) // not from the words of a literal
	}
	if !r.has {
		return c
	}
	v := r.value
	c.Number = &v
	if step.Kind.Measured() {
		c.Text = notation.FormatNumber(v, step.Decimals) + f.Value.Weight.Mark()
		if r.quantity.Unit != unit {
			c.AsTyped = r.quantity.Text(step.Decimals)
		}
	}
	return c
}
