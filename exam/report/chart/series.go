package chart

import (
	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Most is how many charts a page has at most, the most urgent first.
const Most = 6

// OutOfRange makes a series for each finding with a number that stands out in the
// visit; earlier visits come newest first.
func OutOfRange(j *judge.Judge, table *exam.Steps, units notation.Units, v exam.Visit, earlier []exam.Visit, remarks []exam.Remark) []Series {
	visits := append([]exam.Visit{v}, earlier...)
	seen := map[exam.Key]bool{}
	var out []Series
	for _, r := range remarks {
		k := exam.Key{Step: r.Step, Site: r.Site}
		if seen[k] || r.Combination || r.Level == ranges.LevelUsual || len(out) == Most {
			continue
		}
		seen[k] = true
		if s, ok := seriesAt(j, table, units, k, visits); ok {
			out = append(out, s)
		}
	}
	return out
}

// Of are the findings at the given places over visits, newest first; a place with fewer than two values is left out.
func Of(j *judge.Judge, table *exam.Steps, units notation.Units, places []exam.Key, visits []exam.Visit) []Series {
	var out []Series
	for _, k := range places {
		if s, ok := seriesAt(j, table, units, k, visits); ok {
			out = append(out, s)
		}
	}
	return out
}

func seriesAt(j *judge.Judge, table *exam.Steps, units notation.Units, k exam.Key, visits []exam.Visit) (Series, bool) {
	step, ok := table.ByID(k.Step)
	if !ok {
		return Series{}, false
	}
	unit := step.Unit
	if f, ok := visits[0].Finding(k); ok && f.Value.Number != nil && f.Value.Number.Unit != notation.NoUnit {
		unit = f.Value.As(units, step).Number.Unit
	}
	if step.Kind == exam.KindScale {
		unit = notation.Points
	}
	s := Series{Title: step.Name, Unit: unit, Points: compare.Trend(j, step, k.Site, unit, visits)}
	if k.Site != exam.NoSite {
		s.Title += ", " + k.Site.String()
	}
	if len(s.Points) < 2 { // one value is a line of text, which the page has
		return Series{}, false
	}
	if unit != notation.NoUnit && unit != notation.Points {
		if own, ok := j.OwnAt(visits[0], k, unit, visits[1:]); ok {
			s.Own = &own
		}
	}
	return s, true
}
