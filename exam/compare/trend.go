package compare

import (
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Point is one number of a trend.
type Point struct {
	Visit      exam.VisitID
	At         time.Time
	Value      float64 // in the unit of the trend
	Level      exam.Level
	Low, High  *float64      // usual for the horse's class at that visit, in the unit of the trend; nil where none is held
	Zones      []ranges.Zone // the whole range of that class
	Class      ranges.Class
	Stirred    []exam.State // states other than rest
	Borderline bool
	Change     Change // against the point before
}

// Trend gives the numbers of one step and site over the visits, which come newest first, oldest first. Visits without a
// number there are left out; a scale counts by its score.
func Trend(j *judge.Judge, step exam.Step, site exam.Site, unit notation.Unit, visits []exam.Visit) []Point {
	var out []Point
	for i := len(visits) - 1; i >= 0; i-- {
		v := &visits[i]
		r := read(v, exam.Key{Step: step.ID, Site: site}, step)
		r.convert(unit)
		if !r.has {
			continue
		}
		k, class := exam.Key{Step: step.ID, Site: site}, v.Class()
		p := Point{Visit: v.ID, At: v.OpenedAt, Value: r.value, Class: class.Name, Stirred: v.Context.Stirred()}
		if st, ok := j.Standing(*v, *r.finding, visits[i+1:]); ok {
			p.Level, p.Borderline = st.Level, st.Borderline
		}
		if text, ok := j.Range(class, step, unit); ok && text.Unit == unit {
			p.Low, p.High, p.Zones = text.Low, text.High, text.Zones
		}
		p.Change = ChangeAt(j, *v, k, step, unit, visits[i+1:])
		out = append(out, p)
	}
	return out
}
