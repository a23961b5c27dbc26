package judge

import (
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// A horse's own range is made of visits in health. A visit at which the measure itself stood at recheck or above is no
// part of it, nor one after work, heat, travel or excitement, nor one with a medicine to calm; for temperature, heart
// and pain nor one with a medicine for pain or fever. What is usual for a horse never comes from its illness.

// lasting are the measures of the body that no half hour and no medicine changes.
func lasting(id exam.StepID) bool {
	return strings.HasPrefix(string(id), "weight.") || id == "condition.score" || id == "neck.crest"
}

// atEase says that what a visit says of before the exam lets a measure of it count.
func atEase(id exam.StepID, c exam.Context) bool {
	switch {
	case lasting(id):
		return true
	case len(c.NotAtRest()) > 0 || c.Sedated():
		return false
	case c.Took(exam.ForPain):
		for _, begin := range []string{"temp.", "heart.", "pain."} {
			if strings.HasPrefix(string(id), begin) {
				return false
			}
		}
	}
	return true
}

// healthy says that a finding of an earlier visit stood below recheck by itself, in the class of its visit.
func (j *Judge) healthy(class ranges.Class, v *exam.Visit, f *exam.Finding) bool {
	order, ok := j.order[f.Step]
	if !ok {
		return true
	}
	step := &j.list[order]
	if step.Kind == exam.KindScale {
		a := assessment{finding: f, step: step}
		a.assessWords()
		return a.level < ranges.LevelRecheck
	}
	if f.Value.Number == nil {
		return true
	}
	row, ok := j.rowFor(step, class, f.Value.Number.Unit)
	if !ok {
		return true
	}
	x, ok := f.Value.In(notation.Unit(row.Unit))
	if !ok {
		return true
	}
	row = afterMedicine(row, f.Step, v.Context)
	level, _, _ := row.Level(x)
	return level < ranges.LevelRecheck
}

// within keeps an own range inside the limits of its class: it never softens one.
func (j *Judge) within(r exam.OwnRange, id exam.StepID, class ranges.Class) exam.OwnRange {
	order, ok := j.order[id]
	if !ok {
		return r
	}
	row, ok := j.rowFor(&j.list[order], class, r.Unit)
	if !ok || notation.Unit(row.Unit) != r.Unit {
		return r
	}
	for _, limit := range []ranges.Limit{row.Tell, row.Recheck} {
		if edge, ok := limit.Edge(ranges.SideHigh); ok && r.Median < edge {
			r.High = min(r.High, edge)
		}
		if edge, ok := limit.Edge(ranges.SideLow); ok && r.Median >= edge {
			r.Low = max(r.Low, edge)
		}
	}
	return r
}
