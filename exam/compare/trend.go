package compare

import (
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// TrendPoint is one number of a trend.
type TrendPoint struct {
	Visit      exam.VisitID
	At         time.Time
	Value      float64 // in the unit of the trend
	Level      exam.Level
	Low, High  *float64      // usual for the horse's class at that visit, in the unit of the trend; nil where none is held
	Zones      []ranges.Zone // the whole range of that class
	Class      ranges.Class
	Stirred    []exam.State // states other than rest
	Borderline bool
	Unsettled  bool   // one of two answers that nobody has settled
	Change     Change // against the point before
}

// Trend gives the numbers of one step and site over the visits, which come newest first, oldest first. Visits without a
// number there are left out; a scale counts by its score. Of answers that nobody has settled each is a point.
func Trend(j *judge.Judge, step exam.Step, site exam.Site, unit notation.Unit, visits []exam.Visit) []TrendPoint {
	k := exam.Key{Step: step.ID, Site: site}
	var out []TrendPoint
	for i := len(visits) - 1; i >= 0; i-- {
		v := &visits[i]
		whole := read(v, k, step)
		if whole.finding == nil {
			continue
		}
		all := []exam.Finding{*whole.finding}
		if whole.finding.Disputed() {
			all = whole.finding.Standing()
			slices.SortFunc(all, func(a, b exam.Finding) int { return a.Seq - b.Seq })
		}
		for n := range all {
			r := reading{visit: v, finding: &all[n]}.numbered(step)
			r.convert(unit)
			if !r.has {
				continue
			}
			class := v.Class()
			p := TrendPoint{Visit: v.ID, At: v.OpenedAt, Value: r.value, Class: class.Name, Stirred: v.Context.NotAtRest(), Unsettled: len(all) > 1}
			if st, ok := j.Standing(*v, all[n], visits[i+1:]); ok {
				p.Level, p.Borderline = st.Level, st.Borderline
			}
			if text, ok := j.Range(class, step, unit); ok && text.Unit == unit {
				p.Low, p.High, p.Zones = text.Low, text.High, text.Zones
			}
			p.Change = ChangeAt(j, *v, k, step, unit, visits[i+1:])
			out = append(out, p)
		}
	}
	return out
}
