package judge

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// boundStep is the step of the instruments: "over 3 s" begins at 3.1 s, as it does in the tables of ranges.
const boundStep = 0.1

// assessBound judges a number of which only one side is known. It takes the level that every value on that side has at
// least, and is listed as not judged where usual ones are among them: "3 s or more" is past a limit of 2.1 s whatever
// the figure was, "under 3 s" may be either side of it.
func (a *assessment) assessBound(row *ranges.Row, q notation.Quantity) {
	bound := a.finding.Value.Bound
	side, other := ranges.SideHigh, ranges.SideLow
	x := q.Value
	a.value = x
	switch bound {
	case exam.Under:
		side, other = other, side
		x -= boundStep
	case exam.UpTo:
		side, other = other, side
	case exam.Over:
		x += boundStep
	case exam.AtLeast, exam.NoBound:
	}
	level, limit, crossed := row.Level(x)
	switch {
	case crossed == side:
	case crossed == other || anyEdge(row, side):
		a.unjudged = "only " + bound.Show(q.Text(2)) + " is known; it may be within the usual " + usualSpan(row) + " or outside"
		return
	}
	a.value, a.row = x, row
	a.level, a.limit, a.side = level, limit, crossed
}

// anyEdge says that the row holds a limit on a side.
func anyEdge(row *ranges.Row, side string) bool {
	for _, limit := range []ranges.Limit{row.Usual, row.Recheck, row.Tell} {
		if _, ok := limit.Edge(side); ok {
			return true
		}
	}
	return false
}

// figure writes the number of an assessment for a person as the finding is shown, with its bound.
func (a *assessment) figure() string {
	v := &a.finding.Value
	if v.Bound == exam.NoBound || v.Number == nil {
		return notation.Quantity{Value: a.value, Unit: a.unit}.Text(a.step.Decimals)
	}
	q, _ := v.Number.In(a.unit)
	return v.Bound.Show(q.Text(a.step.Decimals))
}

// beyond says that a bound alone is known of a value out of its range.
func beyond(a *assessment) string {
	if a.finding.Value.Bound == exam.NoBound || a.level < ranges.LevelNote {
		return ""
	}
	return "how far it lay beyond is not known"
}
