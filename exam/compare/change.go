package compare

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Worth says what a change is worth.
type Worth string

// The verdicts; none for words, and where there is nothing to compare with.
const (
	NoVerdict   Worth = ""
	Changed     Worth = "changed"      // more than noise
	WithinNoise Worth = "within noise" // what one horse, measured twice, shows without any change
	NotKnown    Worth = "not known"    // too little is known of this horse, or the two cannot be compared
)

// Change is the newest finding at a place set against the last one before it that has something to compare.
type Change struct {
	By      *float64 // newest less last, in the row's unit; nil for words and where there is nothing to compare with
	Means   string   // one line: the way and since when, then what the change is worth
	Verdict Worth
	Noise   Noise // of a number that was measured
	Since   time.Time
}

// ChangeAt compares a finding of a visit with the last one before it that has something to compare, a number with a
// number in the unit given, words with words. Earlier visits come newest first. The zero Change says that there is
// nothing to say.
func ChangeAt(j *judge.Judge, v exam.Visit, k exam.Key, step exam.Step, unit notation.Unit, earlier []exam.Visit) Change {
	readings := make([]reading, 0, len(earlier)+1)
	readings = append(readings, read(&v, k, step))
	for i := range earlier {
		readings = append(readings, read(&earlier[i], k, step))
	}
	for i := range readings {
		readings[i].convert(unit)
	}
	return change(j, readings, step, unit, earlier)
}

// change compares the first of the readings, which come newest first; earlier are the visits after the first.
func change(j *judge.Judge, readings []reading, step exam.Step, unit notation.Unit, earlier []exam.Visit) Change {
	now := &readings[0]
	if now.finding == nil || !now.finding.Done() {
		return Change{}
	}
	if now.finding.Disputed() {
		return Change{Means: "not settled"}
	}
	for i := range readings[1:] {
		then := &readings[1+i]
		if then.finding == nil || !then.finding.Done() || then.finding.Disputed() {
			continue
		}
		if now.has && then.has {
			return numbers(j, now, then, step, unit, earlier)
		}
		if !now.has && len(now.finding.Value.Words) > 0 && len(then.finding.Value.Words) > 0 {
			return Change{Means: wordsMean(now, then, step), Since: then.visit.OpenedAt}
		}
	}
	return Change{}
}

// rounded drops the float noise of a conversion: a millionth is far below every instrument's step.
func rounded(v float64) float64 {
	if math.Abs(v) > 1e9 {
		return v
	}
	return math.Round(v*1e6) / 1e6
}

// day is the date of an earlier visit, with its time where it is of the same day.
func day(then, now *reading) string {
	return exam.DatesOf(*now.visit, *then.visit).Show(then.visit.OpenedAt)
}

func wordsMean(now, then *reading, step exam.Step) string {
	a, b := slices.Sorted(slices.Values(now.finding.Value.Words)), slices.Sorted(slices.Values(then.finding.Value.Words))
	if slices.Equal(a, b) {
		return ""
	}
	return fmt.Sprintf("was %s on %s", notation.CleanLine(then.finding.Value.Show(step), 0), day(then, now))
}

// numbers compares two numbers: a score in words, anything else by its noise.
func numbers(j *judge.Judge, now, then *reading, step exam.Step, unit notation.Unit, earlier []exam.Visit) Change {
	by := rounded(now.value - then.value)
	if math.IsInf(by, 0) {
		return Change{}
	}
	c := Change{By: &by, Since: then.visit.OpenedAt}
	if step.Kind == exam.KindScale {
		if by != 0 {
			c.Means = fmt.Sprintf("was %s on %s", notation.CleanLine(then.finding.Value.Show(step), 0), day(then, now))
		}
		return c
	}
	parts := []string{fmt.Sprintf("%s since %s", way(by, step, unit), day(then, now))}
	c.Noise = NoiseAt(j, *now.visit, *now.finding, *then.finding, unit, earlier)
	worth := ""
	if was := then.visit.Class().Name; was != now.visit.Class().Name {
		c.Verdict, worth = NotKnown, fmt.Sprintf("of another class then (%s)", was)
	} else {
		c.Verdict, worth = c.Noise.weigh(by, step.Decimals)
		if c.Verdict == WithinNoise && outOfRange(j, now, earlier) {
			worth = "" // out of range as it was: no word may calm there
		}
	}
	for _, part := range []string{worth, weighedOtherwise(now, then), stirredAt(now, then, unit)} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	c.Means = strings.Join(parts, "; ")
	return c
}

// outOfRange says that the newest finding stands above what is usual for its class.
func outOfRange(j *judge.Judge, now *reading, earlier []exam.Visit) bool {
	s, ok := j.Standing(*now.visit, *now.finding, earlier)
	return ok && s.Level >= ranges.LevelNote
}

// weigh says what a change is worth against the noise, and in words, as finely as the step is measured.
func (n Noise) weigh(by float64, decimals int) (Worth, string) {
	const slack = 1e-6
	size := math.Abs(by)
	switch {
	case size == 0 && n.Limit > 0:
		return WithinNoise, ""
	case n.Limit == 0:
		return NotKnown, "normal variation not known"
	case size <= n.Limit+slack && n.Complete():
		return WithinNoise, fmt.Sprintf("within normal variation (%s)", n.upTo(decimals))
	case size <= n.Limit+slack:
		return WithinNoise, fmt.Sprintf("within accuracy (%s)", n.upTo(decimals))
	case n.Complete():
		return Changed, fmt.Sprintf("changed (normal variation %s)", n.upTo(decimals))
	}
	return NotKnown, fmt.Sprintf("more than accuracy (%s); this horse's normal variation is not known yet", n.upTo(decimals))
}

func way(by float64, step exam.Step, unit notation.Unit) string {
	size := notation.Quantity{Value: math.Abs(by), Unit: unit}.Text(step.Decimals)
	if fine := math.Pow10(-step.Decimals); math.Abs(by) < fine/2 {
		size = "less than " + notation.Quantity{Value: fine, Unit: unit}.Text(step.Decimals)
	}
	switch {
	case by > 0:
		return "up " + size
	case by < 0:
		return "down " + size
	}
	return "unchanged"
}

func weighedOtherwise(now, then *reading) string {
	a, b := now.finding.Value.Weight, then.finding.Value.Weight
	if a == nil || b == nil || a.Method == b.Method {
		return ""
	}
	return fmt.Sprintf("weighed another way then (%s)", b.Method)
}

// stirredAt says where a rate or temperature was not taken at rest.
func stirredAt(now, then *reading, unit notation.Unit) string {
	if unit != notation.PerMinute && unit != notation.Celsius && unit != notation.Fahrenheit {
		return ""
	}
	a, b := len(now.visit.Context.NotAtRest()) > 0, len(then.visit.Context.NotAtRest()) > 0
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
