package judge

import (
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/ranges"
)

// assessment is how one finding stands, before it is put into words.
type assessment struct {
	finding  *exam.Finding
	step     *exam.Step
	rank     int
	level    exam.Level
	unjudged string // why it could not be judged; empty where it was

	// Of a number:
	value  float64 // in the unit of judging
	unit   notation.Unit
	row    *ranges.Row // nil where none is held
	limit  ranges.Limit
	side   string
	edge   float64 // the limit that the interval of a count straddles
	margin float64 // half-width of that interval; 0 where it straddles nothing
	own    *exam.OwnRange
	far    string // above or below the own range by far
	eased  bool   // told by its row, taken again as the animal just worked

	// Of words: the choices at the highest level.
	choices []*exam.Choice

	// Of a newborn's milestone: how it stands against the birth.
	milestone *score.MilestoneState
}

// judged says that the finding was set beside a row, an own range or the literal of a choice.
func (a *assessment) judged() bool {
	return a.row != nil || a.own != nil || len(a.choices) > 0 || a.milestone != nil
}

// assess sets one finding beside what is held for it; false where it holds nothing to judge.
func (j *Judge) assess(p *judgedVisit, f *exam.Finding) (assessment, bool) {
	if !f.Done() {
		return assessment{}, false
	}
	a := assessment{finding: f}
	order, ok := j.order[f.Step]
	if !ok {
		a.rank = rankOf(len(j.order), f.Site)
		a.unjudged = "this version does not know the step"
		return a, true
	}
	a.step, a.rank = &j.list[order], rankOf(order, f.Site)
	switch a.step.Kind {
	case exam.KindPick, exam.KindMarks, exam.KindScale:
		a.assessWords()
	case exam.KindCount, exam.KindNumber, exam.KindTime, exam.KindWeight:
		j.assessNumber(p, &a)
	case exam.KindEvent:
		a.assessEvent(p)
	case exam.KindNote:
		return assessment{}, false
	}
	return a, true
}

// rankOf orders remarks of one level as the record does; combinations rank before all of them.
func rankOf(order int, site exam.Site) int {
	at, sites := 0, siteOrder()
	for i, s := range sites {
		if s == site {
			at = i
		}
	}
	return firstFinding + order*len(sites) + at
}

// firstFinding is the rank of the first single finding.
const firstFinding = 1000

func siteOrder() [12]exam.Site {
	return [12]exam.Site{
		exam.NoSite, exam.Overall, exam.Left, exam.Right, exam.LeftUpper, exam.LeftLower, exam.RightUpper,
		exam.RightLower, exam.LeftFore, exam.RightFore, exam.LeftHind, exam.RightHind,
	}
}

// assessNumber judges a number in the unit in which it was typed.
func (j *Judge) assessNumber(p *judgedVisit, a *assessment) {
	v := &a.finding.Value
	if v.Number == nil || math.IsNaN(v.Number.Value) || math.IsInf(v.Number.Value, 0) {
		a.unjudged = "it holds no number"
		return
	}
	a.unit = a.step.Unit
	row, held := j.rowFor(a.step, p.class.Name, v.Number.Unit)
	if held {
		row = afterMedicine(row, a.step.ID, p.visit.Context)
		a.unit = notation.Unit(row.Unit)
	}
	q, ok := v.Number.In(a.unit)
	if !ok {
		a.unjudged = "its unit, " + unitWords(v.Number.Unit) + ", does not fit the step"
		return
	}
	if v.Bound != exam.NoBound {
		if held {
			a.assessBound(&row, q)
		} else if a.step.Range != "" {
			a.unjudged = j.noRange(a.step, p.class.Name)
		}
		return
	}
	x := q.Value
	a.value = x
	if r, ok := j.own(a.finding.Key(), a.unit, p.class, p.alike); ok && !otherwise(a.finding, p.alike) {
		a.own, a.far = &r, far(&r, x)
	}
	if held {
		a.row = &row
		a.level, a.limit, a.side = row.Level(x)
		a.straddle()
	} else if a.step.Range != "" {
		a.unjudged = j.noRange(a.step, p.class.Name)
	}
	if a.level == ranges.LevelUsual && (a.far != "" || a.margin > 0) {
		a.level = ranges.LevelNote
	}
}

// rowFor is the row in the unit typed, or in the step's own unit.
func (j *Judge) rowFor(step *exam.Step, class ranges.Class, typed notation.Unit) (ranges.Row, bool) {
	if step.Range == "" {
		return ranges.Row{}, false
	}
	if row, ok := j.table.Lookup(step.Range, class, ranges.Unit(typed)); ok {
		return row, true
	}
	return j.table.Lookup(step.Range, class, ranges.Unit(step.Unit))
}

// noRange says why no row is held for the class.
func (j *Judge) noRange(step *exam.Step, class ranges.Class) string {
	why, ok := j.table.Absent(step.Range, class)
	if !ok {
		why = "no source gives one."
	}
	return "no range is known for this class (" + class.String() + "): " + why
}

// straddle looks whether the 95 % interval of a count lies on both sides of a limit.
func (a *assessment) straddle() {
	c := a.finding.Value.Count
	if c == nil || a.unit != notation.PerMinute || !(c.HalfWidth > 0) || math.IsInf(c.HalfWidth, 0) {
		return
	}
	low, high := a.value-c.HalfWidth, a.value+c.HalfWidth
	for _, limit := range []ranges.Limit{a.row.Tell, a.row.Recheck, a.row.Usual} {
		for _, side := range []string{ranges.SideHigh, ranges.SideLow} {
			edge, ok := limit.Edge(side)
			if ok && low < edge && edge <= high && (a.levelAt(low) != a.level || a.levelAt(high) != a.level) {
				a.edge, a.margin = edge, c.HalfWidth
				return
			}
		}
	}
}

func (a *assessment) levelAt(v float64) exam.Level {
	level, _, _ := a.row.Level(v)
	return level
}
