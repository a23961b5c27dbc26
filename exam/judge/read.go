package judge

import (
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// asRead is an assessment in the unit in which a person reads, for the words of its remark alone. Tables hold a row of its
// own for each unit, rounded by its source; where that row would say another level than the one in the unit typed, the
// words stay in the unit typed, so that no sentence contradicts its level.
func (j *Judge) asRead(p *judgedVisit, a assessment) assessment {
	v := a.finding.Value.As(j.units, *a.step)
	if v.Number == nil || *v.Number == *a.finding.Value.Number {
		return a
	}
	finding := *a.finding
	finding.Value = v
	read := a
	read.finding = &finding
	unit := v.Number.Unit
	q, ok := notation.Quantity{Value: a.value, Unit: a.unit}.In(unit)
	if !ok { // in hands: no row is held for a height
		return read
	}
	read.value, read.unit = q.Value, unit
	if a.own != nil {
		own, ok := j.own(finding.Key(), unit, p.class, p.alike)
		if !ok {
			return a
		}
		read.own = &own
	}
	if a.row == nil {
		return read
	}
	row, held := j.table.Lookup(a.step.Range, p.class.Name, ranges.Unit(unit))
	if !held {
		return a
	}
	row = afterMedicine(row, a.step.ID, p.visit.Context)
	before, _, _ := a.row.Level(a.value)
	level, limit, side := row.Level(read.value)
	if level != before || side != a.side {
		return a
	}
	read.row, read.limit, read.side = &row, limit, side
	return read
}
