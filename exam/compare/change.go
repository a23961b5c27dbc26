package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
)

// change compares the newest visit with the last one before it that has something to compare: a number with a number,
// words with words. Where the newest has neither, nothing is said.
func change(readings []reading, step exam.Step, unit exam.Unit) (*float64, string) {
	now := &readings[0]
	if now.finding == nil || !now.finding.Done() {
		return nil, ""
	}
	for i := range readings[1:] {
		then := &readings[1+i]
		if then.finding == nil || !then.finding.Done() {
			continue
		}
		if now.has && then.has {
			by := rounded(now.value - then.value)
			if math.IsInf(by, 0) {
				return nil, ""
			}
			return &by, numberMeans(by, now, then, step, unit)
		}
		if !now.has && len(now.finding.Value.Words) > 0 && len(then.finding.Value.Words) > 0 {
			return nil, wordsMean(now, then, step)
		}
	}
	return nil, ""
}

// rounded drops the float noise of a conversion: a millionth is far below every instrument's step.
func rounded(v float64) float64 {
	if math.Abs(v) > 1e9 {
		return v
	}
	return math.Round(v*1e6) / 1e6
}

func day(t time.Time) string { return t.Format("2 Jan 2006") }

func wordsMean(now, then *reading, step exam.Step) string {
	a, b := slices.Sorted(slices.Values(now.finding.Value.Words)), slices.Sorted(slices.Values(then.finding.Value.Words))
	if slices.Equal(a, b) {
		return ""
	}
	return fmt.Sprintf("was %s on %s", exam.CleanLine(then.finding.Value.Show(step), 0), day(then.visit.OpenedAt))
}

// numberMeans is one line: the way and since when, then what the change may not be read without.
func numberMeans(by float64, now, then *reading, step exam.Step, unit exam.Unit) string {
	if step.Kind == exam.KindScale {
		if by == 0 {
			return ""
		}
		return fmt.Sprintf("was %s on %s", exam.CleanLine(then.finding.Value.Show(step), 0), day(then.visit.OpenedAt))
	}
	parts := []string{fmt.Sprintf("%s since %s", way(by, step, unit), day(then.visit.OpenedAt))}
	if within := withinError(by, now, then, unit); within != "" {
		parts = append(parts, within)
	}
	if stirred := stirredAt(now, then, unit); stirred != "" {
		parts = append(parts, stirred)
	}
	return strings.Join(parts, "; ")
}

func way(by float64, step exam.Step, unit exam.Unit) string {
	size := exam.Quantity{Value: math.Abs(by), Unit: unit}.Text(max(step.Decimals, 1))
	switch {
	case by > 0:
		return "up " + size
	case by < 0:
		return "down " + size
	}
	return "unchanged"
}

// withinError says where the change is no larger than the two measurements can be off by themselves; empty where it is
// larger, where there is none, or where their error is not known.
func withinError(by float64, now, then *reading, unit exam.Unit) string {
	size := math.Abs(by)
	if size == 0 {
		return ""
	}
	const slack = 1e-6
	a, b := &now.finding.Value, &then.finding.Value
	switch unit {
	case exam.PerMinute:
		if h, ok := together(countError(a.Count), countError(b.Count)); ok && size <= h+slack {
			return "within what the counts themselves can be off by"
		}
	case exam.Celsius:
		if size <= 0.1+slack { // the step of a clinical thermometer
			return "within one step of the thermometer"
		}
	case exam.Fahrenheit:
		if size <= 0.2+slack { // 0.1 C is 0.18 F
			return "within one step of the thermometer"
		}
	case exam.Seconds:
		if len(a.TrialsS) > 1 && len(b.TrialsS) > 1 && size <= max(span(a.TrialsS), span(b.TrialsS))+slack {
			return "within the spread of the trials"
		}
	case exam.Kilograms, exam.Pounds:
		return weightMeans(size, a.Weight, b.Weight, unit)
	case exam.NoUnit, exam.Centimetre, exam.Inch, exam.Points:
	}
	return ""
}

// countError is the 95 % half-width of a count, /min: as stored for taps; 1.96 times 24.5/W for a count by ear over W
// seconds, whose error is that of whole beats in a window (derived, counting facts 1.2); 0 where it is not known.
func countError(c *exam.Count) float64 {
	switch {
	case c == nil:
		return 0
	case c.HalfWidth > 0:
		return c.HalfWidth
	case c.Method == exam.CountByEar && c.WindowS > 0:
		return 1.96 * 24.5 / c.WindowS
	}
	return 0
}

// together joins two independent half-widths; false where one is not known.
func together(a, b float64) (float64, bool) {
	if !(a > 0) || !(b > 0) || math.IsInf(a, 0) || math.IsInf(b, 0) {
		return 0, false
	}
	return math.Hypot(a, b), true
}

func span(trials []float64) float64 { return slices.Max(trials) - slices.Min(trials) }

func weightMeans(size float64, a, b *exam.Weight, unit exam.Unit) string {
	if a == nil || b == nil {
		return ""
	}
	kg, _ := exam.Quantity{Value: size, Unit: unit}.In(exam.Kilograms)
	if h, ok := together((a.HighKg-a.LowKg)/2, (b.HighKg-b.LowKg)/2); ok && kg.Value <= h {
		return "within the published error of the method"
	}
	if a.Method != b.Method {
		return fmt.Sprintf("weighed another way then (%s)", b.Method)
	}
	return ""
}

// stirredAt says where a rate or temperature was not taken at rest.
func stirredAt(now, then *reading, unit exam.Unit) string {
	if unit != exam.PerMinute && unit != exam.Celsius && unit != exam.Fahrenheit {
		return ""
	}
	a, b := len(now.visit.Context.Stirred()) > 0, len(then.visit.Context.Stirred()) > 0
	switch {
	case a && b:
		return "neither taken at rest"
	case a:
		return "not at rest this time"
	case b:
		return "not at rest then"
	}
	return ""
}
