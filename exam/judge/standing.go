package judge

import (
	"loosebox/exam"

	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Standing is how one finding stands, in numbers only: what a table or a graph needs, without the words of a remark.
type Standing struct {
	Step       exam.StepID
	Site       exam.Site
	Level      exam.Level
	Unit       notation.Unit // of judging; empty for words
	Low, High  *float64      // ends of what is usual, where a row is held
	Own        *exam.OwnRange
	Borderline bool
	Unjudged   string // why it could not be judged; empty where it was
	// Rated says that the level can be said: something is held that says what is usual, or a limit is crossed.
	Rated bool
}

// Standings gives every finding of a visit that holds a value, in the order of the record, and the level of the whole
// visit, combinations included.
func (j *Judge) Standings(v exam.Visit, earlier []exam.Visit) ([]Standing, exam.Level) {
	p := j.look(&v, earlier)
	out := make([]Standing, len(p.found))
	level := exam.Level(0)
	for i := range p.found {
		out[i] = p.found[i].standing()
		level = max(level, p.found[i].level)
	}
	for i := range j.rules {
		if j.rules[i].level <= level {
			continue
		}
		if _, _, ok := j.rules[i].holds(p); ok {
			level = j.rules[i].level
		}
	}
	return out, level
}

// Standing gives one finding of a visit; false where it is not done or a note.
func (j *Judge) Standing(v exam.Visit, f exam.Finding, earlier []exam.Visit) (Standing, bool) {
	p := j.see(&v, earlier)
	a, ok := j.assess(p, &f)
	if !ok {
		return Standing{}, false
	}
	if a.mayEase(p) {
		j.look(&v, earlier).easeOne(&a)
	}
	return a.standing(), true
}

func (a *assessment) standing() Standing {
	s := Standing{
		Step: a.finding.Step, Site: a.finding.Site, Level: a.level, Unit: a.unit, Own: a.own,
		Borderline: a.margin > 0, Unjudged: a.unjudged,
	}
	if a.row != nil {
		s.Low, s.High = a.row.Usual.Low, a.row.Usual.High
	}
	known := s.Low != nil || s.High != nil || a.own != nil || len(a.choices) > 0 || a.milestone != nil
	s.Rated = a.level > ranges.LevelUsual || known && a.unjudged == ""
	return s
}
