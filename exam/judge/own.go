package judge

import (
	"math"
	"slices"
	"time"

	"loosebox/exam"
)

// leastVisits is how many earlier visits an own range needs.
const leastVisits = 4

// ownWidth is the half-width of an own range in standard deviations, farWidth where a value is far outside it. For
// values that scatter normally two deviations hold about 95 of 100.
const (
	ownWidth = 2
	farWidth = 3
)

// madToSD turns the median absolute deviation of normal values into their standard deviation: 1/Φ⁻¹(3/4).
const madToSD = 1.4826

// fewVisits corrects the median absolute deviation of n values, which is too small on average where n is: Croux and
// Rousseeuw 1992 (from memory; a test finds the same by simulation).
func fewVisits(n int) float64 {
	small := [...]float64{4: 1.363, 5: 1.206, 6: 1.200, 7: 1.140, 8: 1.129, 9: 1.107}
	if n < len(small) {
		return small[n]
	}
	return float64(n) / (float64(n) - 0.8)
}

// Own is what is usual for one horse at one step and site, from at least four earlier visits: the median and twice
// 1.4826 times the median absolute deviation (times fewVisits) either way, or leastHalf where that is narrower. One odd visit cannot move
// it far. Only closed or imported visits count, only those of the class of the newest of them (a foal's rates are not
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

// OwnAt is Own as it stands at a visit: from those of the earlier visits at which the horse was of the class it is of now.
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

// spread is the median and ownWidth robust standard deviations; it orders the values in place.
func spread(values []float64) (mid, half float64) {
	mid = median(values)
	for i, x := range values {
		values[i] = math.Abs(x - mid)
	}
	return mid, ownWidth * madToSD * fewVisits(len(values)) * median(values)
}

// median orders the values and gives the middle one, or the mean of the middle two.
func median(values []float64) float64 {
	slices.Sort(values)
	n := len(values)
	if n%2 == 1 {
		return values[n/2]
	}
	return values[n/2-1] + (values[n/2]-values[n/2-1])/2
}

// leastHalf is the least half-width of an own range, so that equal readings do not make the next one stand out:
// temperature 0.5 C, the mean daily swing of adult horses (CIRC, published); a rate 4 /min, the step of a count of 15 s
// times four (derived); a time 0.5 s, half of the one-second grades of refill (AERA, published); a score 1 point; a
// weight 4 %, twice what a girth read 1 % wrong makes of it (derived); anything else 2 %.
func leastHalf(u exam.Unit, mid float64) float64 {
	switch u {
	case exam.Celsius:
		return 0.5
	case exam.Fahrenheit:
		return 0.9
	case exam.PerMinute:
		return 4
	case exam.Seconds:
		return 0.5
	case exam.Points:
		return 1
	case exam.Kilograms, exam.Pounds:
		return 0.04 * math.Abs(mid)
	case exam.NoUnit, exam.Centimetre, exam.Inch:
	}
	return 0.02 * math.Abs(mid)
}

// changesWithContext says that the unit is one of a rate or a temperature.
func changesWithContext(u exam.Unit) bool {
	return u == exam.PerMinute || u == exam.Celsius || u == exam.Fahrenheit
}

// far says on which side a value lies far outside an own range; empty where it does not.
func far(r *exam.OwnRange, v float64) string {
	if r == nil {
		return ""
	}
	reach := (r.High - r.Median) * farWidth / ownWidth
	switch {
	case v > r.Median+reach+slack:
		return "above"
	case v < r.Median-reach-slack:
		return "below"
	}
	return ""
}

// slack is far below any instrument's step and far above the noise of floats.
const slack = 1e-6
