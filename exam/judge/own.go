package judge

import (
	"math"
	"slices"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// leastVisits is how many earlier visits an own range needs.
const leastVisits = 4

// Own is what is usual for one horse at one step and site, from at least four earlier visits, newest first: the median
// and twice 1.4826 times the median absolute deviation, corrected by fewVisits, either way, or leastHalf where that is
// narrower. One odd visit cannot move it far. Only closed or imported visits count, only those of the class of the newest of them (a foal's rates are not
// an adult's), only those in health (health.go), and for a weight only those weighed as the newest was, by the same
// equation. It never reaches beyond a limit of the class. False where fewer than four remain.
func (j *Judge) Own(step exam.StepID, site exam.Site, unit notation.Unit, earlier []exam.Visit) (exam.OwnRange, bool) {
	if len(earlier) == 0 {
		return exam.OwnRange{}, false
	}
	newest := &earlier[0]
	for i := range earlier {
		if earlier[i].OpenedAt.After(newest.OpenedAt) {
			newest = &earlier[i]
		}
	}
	class := newest.Class()
	return j.own(exam.Key{Step: step, Site: site}, unit, class, comparableOf(newest.Horse, class, "", earlier))
}

// OwnAt is Own as it stands at a visit: from those earlier visits at which the horse was of the class it is of then.
func (j *Judge) OwnAt(v exam.Visit, k exam.Key, unit notation.Unit, earlier []exam.Visit) (exam.OwnRange, bool) {
	class := v.Class()
	return j.own(k, unit, class, comparable(&v, class, earlier))
}

// comparable lists the earlier visits that may count for the own range at a visit.
func comparable(v *exam.Visit, class exam.Class, earlier []exam.Visit) []*exam.Visit {
	return comparableOf(v.Horse, class, v.ID, earlier)
}

// comparableOf leaves out open visits, the visit itself and those at which the horse, as it is known now, was of another
// class.
func comparableOf(h exam.Horse, class exam.Class, self exam.VisitID, earlier []exam.Visit) []*exam.Visit {
	out := make([]*exam.Visit, 0, len(earlier))
	var first, last time.Time
	for i := range earlier {
		e := &earlier[i]
		if (e.ID == self && self != "") || !(e.Closed() || e.Source != "") {
			continue
		}
		out = append(out, e)
		if first.IsZero() || e.OpenedAt.Before(first) {
			first = e.OpenedAt
		}
		if e.OpenedAt.After(last) {
			last = e.OpenedAt
		}
	}
	was := func(at time.Time) bool { return exam.ClassOf(h, at).Name == class.Name }
	if len(out) == 0 || (was(first) && was(last)) {
		return out // classes follow age, so between the two it was of the same one
	}
	return slices.DeleteFunc(out, func(e *exam.Visit) bool { return !was(e.OpenedAt) })
}

// sample is a horse's own numbers at a place, in one unit.
type sample struct {
	values    []float64
	findings  []*exam.Finding
	first     time.Time
	last      time.Time
	lastValue float64
}

// gather takes the numbers that count for what is usual: in health, and of weights only those weighed as the newest was.
func (j *Judge) gather(k exam.Key, unit notation.Unit, class exam.Class, visits []*exam.Visit) sample {
	s := sample{values: make([]float64, 0, len(visits))}
	way := ""
	for _, v := range visits {
		if !atEase(k.Step, v.Context) {
			continue
		}
		f, ok := find(v, k)
		if !ok {
			continue
		}
		x, ok := f.Value.In(unit)
		if !ok || !j.healthy(class.Name, v, f) {
			continue
		}
		if w := f.Value.Weight; w != nil {
			if way == "" {
				way = wayOf(w)
			}
			if wayOf(w) != way {
				continue
			}
		}
		s.values, s.findings = append(s.values, x), append(s.findings, f)
		if s.first.IsZero() || v.OpenedAt.Before(s.first) {
			s.first = v.OpenedAt
		}
		if v.OpenedAt.After(s.last) {
			s.last, s.lastValue = v.OpenedAt, x
		}
	}
	return s
}

// wayOf is how a weight was found, as far as that makes weights comparable: a guess is none for a scale, and what one
// equation says is none for another.
func wayOf(w *exam.Weight) string { return string(w.Method) + "\x00" + w.Equation }

// otherwise says that a weight was found in another way than the newest one that counts for the own range.
func otherwise(f *exam.Finding, visits []*exam.Visit) bool {
	if f.Value.Weight == nil {
		return false
	}
	for _, v := range visits {
		if before, ok := find(v, f.Key()); ok && before.Value.Weight != nil {
			return wayOf(before.Value.Weight) != wayOf(f.Value.Weight)
		}
	}
	return false
}

func (j *Judge) own(k exam.Key, unit notation.Unit, class exam.Class, visits []*exam.Visit) (exam.OwnRange, bool) {
	s := j.gather(k, unit, class, visits)
	if len(s.values) < leastVisits {
		return exam.OwnRange{}, false
	}
	r := exam.OwnRange{Unit: unit, Visits: len(s.values), FirstAt: s.first, LastAt: s.last, LastValue: s.lastValue}
	mid, half := spread(s.values)
	half = math.Max(half, leastHalf(unit, mid))
	r.Median, r.Low, r.High = mid, mid-half, mid+half
	if unit != notation.Celsius && unit != notation.Fahrenheit {
		r.Low = math.Max(0, r.Low) // no rate, time, weight or score is below zero
	}
	if math.IsInf(r.High-r.Low, 0) || math.IsNaN(r.High-r.Low) {
		return exam.OwnRange{}, false // more than one reading beyond all measure
	}
	return j.within(r, k.Step, class.Name), true
}

// Scatter is how far a horse's own readings at a place lie apart, and from which findings that was learnt.
type Scatter struct {
	SD       float64 // robust standard deviation, in the unit asked for; never under that of an own range of equal readings
	Findings []*exam.Finding
}

// ScatterAt is the scatter behind OwnAt, from the same visits; false where fewer than four count.
func (j *Judge) ScatterAt(v exam.Visit, k exam.Key, unit notation.Unit, earlier []exam.Visit) (Scatter, bool) {
	class := v.Class()
	s := j.gather(k, unit, class, comparable(&v, class, earlier))
	if len(s.values) < leastVisits {
		return Scatter{}, false
	}
	mid, half := spread(s.values)
	sd := math.Max(half, leastHalf(unit, mid)) / ownWidth
	if math.IsInf(sd, 0) || math.IsNaN(sd) {
		return Scatter{}, false
	}
	return Scatter{SD: sd, Findings: s.findings}, true
}

func find(v *exam.Visit, k exam.Key) (*exam.Finding, bool) {
	for i := range v.Findings {
		if f := &v.Findings[i]; f.Step == k.Step && f.Site == k.Site {
			return f, f.Done()
		}
	}
	return nil, false
}
