package judge

import (
	"math"
	"slices"
	"time"

	"loosebox/exam"
)

// leastVisits is how many earlier visits an own range needs.
const leastVisits = 4

// Own is what is usual for one horse at one step and site, from at least four earlier visits, newest first: the median
// and twice 1.4826 times the median absolute deviation, corrected by fewVisits, either way, or leastHalf where that is
// narrower. One odd visit cannot move it far. Only closed or imported visits count, only those of the class of the newest of them (a foal's rates are not
// an adult's), for rates and temperatures only those without work, excitement, travel or heat, and for a weight only
// those weighed as the newest was. False where fewer than four remain.
func Own(step exam.StepID, site exam.Site, unit exam.Unit, earlier []exam.Visit) (exam.OwnRange, bool) {
	if len(earlier) == 0 {
		return exam.OwnRange{}, false
	}
	newest := &earlier[0]
	for i := range earlier {
		if earlier[i].OpenedAt.After(newest.OpenedAt) {
			newest = &earlier[i]
		}
	}
	return own(exam.Key{Step: step, Site: site}, unit, alikeOf(newest.Horse, newest.Class(), "", earlier))
}

// OwnAt is Own as it stands at a visit: from those earlier visits at which the horse was of the class it is of then.
func OwnAt(v exam.Visit, k exam.Key, unit exam.Unit, earlier []exam.Visit) (exam.OwnRange, bool) {
	return own(k, unit, alike(&v, v.Class(), earlier))
}

// alike lists the earlier visits that may count for the own range at a visit.
func alike(v *exam.Visit, class exam.Class, earlier []exam.Visit) []*exam.Visit {
	return alikeOf(v.Horse, class, v.ID, earlier)
}

// alikeOf leaves out open visits, the visit itself and those at which the horse, as it is known now, was of another
// class.
func alikeOf(h exam.Horse, class exam.Class, self exam.VisitID, earlier []exam.Visit) []*exam.Visit {
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

func own(k exam.Key, unit exam.Unit, visits []*exam.Visit) (exam.OwnRange, bool) {
	values := make([]float64, 0, len(visits))
	r := exam.OwnRange{Unit: unit}
	method := ""
	for _, v := range visits {
		if changesWithContext(unit) && len(v.Context.Stirred()) > 0 {
			continue
		}
		f, ok := find(v, k)
		if !ok {
			continue
		}
		x, ok := f.Value.In(unit)
		if !ok {
			continue
		}
		if w := f.Value.Weight; w != nil {
			if method == "" {
				method = w.Method
			}
			if w.Method != method {
				continue
			}
		}
		values = append(values, x)
		if r.FirstAt.IsZero() || v.OpenedAt.Before(r.FirstAt) {
			r.FirstAt = v.OpenedAt
		}
		if v.OpenedAt.After(r.LastAt) {
			r.LastAt, r.LastValue = v.OpenedAt, x
		}
	}
	if len(values) < leastVisits {
		return exam.OwnRange{}, false
	}
	r.Visits = len(values)
	mid, half := spread(values)
	half = math.Max(half, leastHalf(unit, mid))
	r.Median, r.Low, r.High = mid, mid-half, mid+half
	if unit != exam.Celsius && unit != exam.Fahrenheit {
		r.Low = math.Max(0, r.Low) // no rate, time, weight or score is below zero
	}
	if math.IsInf(r.High-r.Low, 0) || math.IsNaN(r.High-r.Low) {
		return exam.OwnRange{}, false // more than one reading beyond all measure
	}
	return r, true
}

func find(v *exam.Visit, k exam.Key) (*exam.Finding, bool) {
	for i := range v.Findings {
		if f := &v.Findings[i]; f.Step == k.Step && f.Site == k.Site {
			return f, f.Done()
		}
	}
	return nil, false
}
