package exam

import (
	"slices"

	"loosebox/exam/notation"
)

// As is the value in the units in which a person reads; the record keeps what was typed.
func (v Value) As(units notation.Units, s Step) Value {
	if v.Number == nil || len(units) == 0 || !s.Kind.Measured() {
		return v
	}
	q := units.Of(*v.Number)
	if s.InHands {
		q = units.Height(*v.Number)
	}
	v.Number = &q
	return v
}

// As is a copy of the visit with every finding, and what stood there before, in the units in which a person reads. It is
// for what is shown: nothing is judged or worked out of it.
func (v Visit) As(units notation.Units, table *Steps) Visit {
	if len(units) == 0 {
		return v
	}
	v.Findings = inUnits(v.Findings, units, table)
	return v
}

func inUnits(list []Finding, units notation.Units, table *Steps) []Finding {
	list = slices.Clone(list)
	for i := range list {
		f := &list[i]
		if step, ok := table.ByID(f.Step); ok {
			f.Value = f.Value.As(units, step)
		}
		f.Before, f.Differ = inUnits(f.Before, units, table), inUnits(f.Differ, units, table)
	}
	return list
}

// VisitsAs is As for visits.
func VisitsAs(list []Visit, units notation.Units, table *Steps) []Visit {
	if len(units) == 0 {
		return list
	}
	out := make([]Visit, len(list))
	for i := range list {
		out[i] = list[i].As(units, table)
	}
	return out
}
