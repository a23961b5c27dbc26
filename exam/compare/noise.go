package compare

import (
	"fmt"
	"math"
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Z is how many standard deviations hold 95 of 100 changes, in either direction.
const Z = 1.96

// ReferenceChange is how far two readings of one animal lie apart by chance alone in 95 of 100 pairs, in the unit of its
// arguments, which are standard deviations: within one animal from day to day, and of each of the two measurements. With
// equal measurements it is sqrt(2) x Z x sqrt(CVA² + CVI²), the reference change value (Clin Chem Lab Med 2012;50:807-812,
// abstract; biologicalvariation.com/RCV.html), which is used for laboratory values of horses too (Equine Vet J
// 2025;57:862-869, abstract). Each measurement has its own, as Ann Clin Biochem 2009;46:517-519 (abstract) has it.
func ReferenceChange(within, now, then float64) float64 {
	return Z * math.Sqrt(2*within*within+now*now+then*then)
}

// NoiseSource says where the variation within a horse was learnt.
type NoiseSource string

// The origins.
const (
	FromOwn       NoiseSource = "own visits"
	FromPublished NoiseSource = "published"
	OriginUnknown NoiseSource = "not known"
)

// Noise is how far two readings of a horse at one place may lie apart without any change in the horse, in Unit.
type Noise struct {
	Unit   notation.Unit
	Limit  float64 // a change up to it is noise; of the measurement alone where From is OriginUnknown, 0 where that is not known either
	Within float64 // standard deviation within the horse; 0 where it is not known, or no larger than the measurement's own
	From   NoiseSource
	Visits int // earlier visits that Within was learnt from
	Now    Precision
	Then   Precision
}

// Complete says that the limit holds the horse's own variation and not the measurement alone.
func (n Noise) Complete() bool { return n.From != OriginUnknown }

// NoiseAt is the noise between a finding of a visit and an earlier one, and the horse's own variation as it was learnt
// from the visits before: earlier visits come newest first, and both findings hold a number.
func NoiseAt(j *judge.Judge, v exam.Visit, now, then exam.Finding, unit notation.Unit, earlier []exam.Visit) Noise {
	n := Noise{Unit: unit, From: OriginUnknown}
	n.Now, n.Then = precisions(now, then, unit)
	k := now.Key()
	if s, ok := j.ScatterAt(v, k, unit, earlier); ok {
		n.From, n.Visits = FromOwn, len(s.Findings)
		n.Within = math.Sqrt(math.Max(s.SD*s.SD-meanSquare(s.Findings, unit), 0))
	} else if sd, ok := published(v.Class().Name, k.Step, unit); ok {
		n.From, n.Within = FromPublished, sd
	}
	if n.Complete() || n.Now.Known && n.Then.Known {
		n.Limit = ReferenceChange(n.Within, n.Now.SD, n.Then.SD)
	}
	if math.IsInf(n.Limit, 0) || math.IsNaN(n.Limit) { // readings beyond all measure
		return Noise{Unit: unit, From: OriginUnknown}
	}
	return n
}

// NoiseAhead is the noise between the newest earlier finding and one about to be taken in the same way; false where
// nothing earlier holds a number, or nothing is known of it. It comes with that finding's number in the unit.
func NoiseAhead(j *judge.Judge, v exam.Visit, k exam.Key, unit notation.Unit, earlier []exam.Visit) (n Noise, last float64, at time.Time, ok bool) {
	for i := range earlier {
		then, found := earlier[i].Finding(k)
		if !found || !then.Done() {
			continue
		}
		last, ok = then.Value.In(unit)
		if !ok || earlier[i].Class().Name != v.Class().Name {
			return Noise{}, 0, time.Time{}, false
		}
		n = NoiseAt(j, v, then, then, unit, earlier)
		return n, last, earlier[i].OpenedAt, n.Limit > 0
	}
	return Noise{}, 0, time.Time{}, false
}

// meanSquare is the mean variance that the measurements themselves brought into the scatter; one that is not known
// brings none, so that nothing is taken off for it.
func meanSquare(findings []*exam.Finding, unit notation.Unit) float64 {
	sum := 0.0
	for _, f := range findings {
		p := precision(*f, unit)
		sum += p.SD * p.SD
	}
	return sum / float64(len(findings))
}

// dailySwingC is the mean difference between the coolest and the warmest hour of adult horses, degrees C.
const dailySwingC = 0.5

// dailySwing is where that was read.
const dailySwing = "maturation of the daily temperature rhythm in sheep and horse, mean daily swing of adult horses 0.5 C"

// published is the standard deviation within one horse where one can be had from print: for temperatures of grown
// horses half the daily swing, because a swing either way is taken to hold 95 of 100 readings. No other is held.
func published(class ranges.Class, step exam.StepID, unit notation.Unit) (float64, bool) {
	switch class {
	case ranges.AdultLight, ranges.MareInFoal, ranges.Draft, ranges.Pony, ranges.SmallMareInFoal:
	default:
		return 0, false
	}
	if step != exam.StepID(ranges.TempRectal) {
		return 0, false
	}
	return dailySwingC / 2 * perCelsius(unit), true
}

func perCelsius(u notation.Unit) float64 {
	if u == notation.Fahrenheit {
		return 1.8
	}
	return 1
}

// Explain says how the limit was found: the formula, each number in it, and where it was read, a line each.
func (n Noise) Explain() []string {
	within := "this horse's day-to-day variation is not known: it needs 4 earlier visits"
	switch n.From {
	case FromOwn:
		within = fmt.Sprintf("within this horse %s (standard deviation of %d earlier visits, without measuring error)", n.show(n.Within), n.Visits)
	case FromPublished:
		within = fmt.Sprintf("within a horse %s (published: %s; half of it taken as standard deviation)", n.show(n.Within), dailySwing)
	case OriginUnknown:
	}
	lines := []string{"a real change is above 1.96 x sqrt(2 x within² + this² + last²), the reference change value. 95 of 100 chance changes are smaller, 90 with only four visits"}
	lines = append(lines, within, fmt.Sprintf("this measurement: %s; the last: %s", n.Now.words(n), n.Then.words(n)))
	switch {
	case n.Limit > 0 && n.Complete():
		lines = append(lines, fmt.Sprintf("limit: %s", n.show(n.Limit)))
	case n.Limit > 0:
		lines = append(lines, fmt.Sprintf("limit of accuracy alone: %s", n.show(n.Limit)))
	}
	return append(lines, "source: reference change values, Clin Chem Lab Med 2012;50:807-812 (published; for laboratory values, also of horses: Equine Vet J 2025;57:862-869)")
}

// Most is the largest change that is still within the limit, as finely as a step of so many decimals is measured.
func (n Noise) Most(decimals int) string {
	if n.Limit >= 20 { // tenths say nothing there
		decimals = 0
	}
	fine := math.Pow10(-decimals)
	return notation.Quantity{Value: math.Floor(n.Limit/fine+1e-6) * fine, Unit: n.Unit}.Text(decimals)
}

// upTo is Most in words; a limit that is finer than the step is measured has its own.
func (n Noise) upTo(decimals int) string {
	if fine := math.Pow10(-decimals); n.Limit < fine {
		return "under " + notation.Quantity{Value: fine, Unit: n.Unit}.Text(decimals)
	}
	return "up to " + n.Most(decimals)
}

func (n Noise) show(v float64) string {
	decimals := 2
	if v >= 20 {
		decimals = 0
	} else if v >= 1 {
		decimals = 1
	}
	return notation.Quantity{Value: v, Unit: n.Unit}.Text(decimals)
}
