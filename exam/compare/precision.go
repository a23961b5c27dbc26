package compare

import (
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// Precision is the error of one reading by the way it was taken, as a standard deviation in the
// row's unit.
type Precision struct {
	SD    float64
	Known bool
	Of    string // what it comes from: "the tapped count"
}

func (p Precision) words(n Noise) string {
	if !p.Known {
		return "accuracy not known"
	}
	return p.Of + ", " + n.show(p.SD)
}

// Shares of a weight by which it is off, as standard deviations.
const (
	girthShare = 0.02     // a girth read 1 % wrong is 2 % of the weight (calculations facts 0, computed)
	scaleShare = 0.01 / Z // a scale that is level and set to zero holds 1 % (common practice)
	stepC      = 0.1      // the step of a clinical thermometer, degrees C, taken as the half-width of a reading
	earCount   = 24.5     // whole beats in a window of so many seconds: 24.5/W per minute (counting facts 1.2, derived)
)

// precisions are those of two readings that are set side by side. Weights found in the same way share what that way is
// off by as a whole, and differ only by the reading; else each may be off by the published error of its method.
func precisions(now, then exam.Finding, unit notation.Unit) (a, b Precision) {
	if now.Value.Weight != nil && then.Value.Weight != nil && !alikeWeighed(now.Value.Weight, then.Value.Weight) {
		return byMethod(now.Value.Weight, unit), byMethod(then.Value.Weight, unit)
	}
	return precision(now, unit), precision(then, unit)
}

func alikeWeighed(a, b *exam.Weight) bool { return a.Method == b.Method && a.Equation == b.Equation }

// precision is how far a reading differs from another one taken in the same way; not known for a typed rate or a single
// trial.
func precision(f exam.Finding, unit notation.Unit) Precision {
	v := &f.Value
	switch unit {
	case notation.PerMinute:
		return ofCount(v.Count)
	case notation.Celsius, notation.Fahrenheit:
		return Precision{SD: stepC / Z * perCelsius(unit), Known: true, Of: "one step of the thermometer"}
	case notation.Seconds:
		return ofTrials(v.TrialsS)
	case notation.Kilograms, notation.Pounds:
		kg, ok := v.In(unit)
		if v.Weight == nil || !ok {
			return Precision{}
		}
		switch v.Weight.Method {
		case exam.WeightScale:
			return Precision{SD: scaleShare * math.Abs(kg), Known: true, Of: "the scale"}
		case exam.WeightTape, exam.WeightMeasured:
			return Precision{SD: girthShare * math.Abs(kg), Known: true, Of: "the tape, 1 % of the girth"}
		case exam.WeightEye:
		}
		return byMethod(v.Weight, unit)
	case notation.NoUnit, notation.Centimetre, notation.Inch, notation.Hands, notation.Points:
	}
	return Precision{}
}

// zOf90 is how many standard deviations a band of 90 % goes each way.
const zOf90 = 1.6449

// byMethod takes the published error of the method, stored as a band with the weight: a band of 90 % where it says so, and
// else two standard deviations each way.
func byMethod(w *exam.Weight, unit notation.Unit) Precision {
	half := (w.HighKg - w.LowKg) / 2
	if !(half > 0) || math.IsInf(half, 0) {
		return Precision{}
	}
	z := Z
	if w.BandPercent == 90 {
		z = zOf90
	}
	q, _ := notation.Quantity{Value: half / z, Unit: notation.Kilograms}.In(unit)
	return Precision{SD: q.Value, Known: true, Of: "the published error of the method (" + w.Method.String() + ")"}
}

// ofCount takes the 95 % half-width of a tapped count as it was stored, and for a count by ear the error of whole beats
// in its window.
func ofCount(c *exam.Count) Precision {
	switch {
	case c == nil:
	case c.HalfWidth > 0 && !math.IsInf(c.HalfWidth, 0):
		return Precision{SD: c.HalfWidth / Z, Known: true, Of: "the tapped count"}
	case c.Method == exam.CountByEar && c.WindowS > 0:
		return Precision{SD: earCount / c.WindowS, Known: true, Of: "whole beats in " + notation.FormatNumber(c.WindowS, 0) + " s"}
	}
	return Precision{}
}

// ofTrials is the standard error of the trials of a time.
func ofTrials(s []float64) Precision {
	if len(s) < 2 {
		return Precision{}
	}
	n, mean, sum := float64(len(s)), 0.0, 0.0
	for _, x := range s {
		mean += x / n
	}
	for _, x := range s {
		sum += (x - mean) * (x - mean)
	}
	sd := math.Sqrt(sum / (n - 1) / n)
	return Precision{SD: sd, Known: !math.IsNaN(sd) && !math.IsInf(sd, 0), Of: "the spread of the trials"}
}
