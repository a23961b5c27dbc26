package rehearse

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// How far a measured answer may lie from the truth and still be right. All are our own and assumed: a step of the
// instrument, and for a time pressed by hand two reactions.
const (
	tempAllowedC  = 0.15 // a reading in F, rounded to 0.1, is up to 0.03 C off
	timeAllowedS  = 0.3
	timeAllowed   = 0.15 // of the time
	weightAllowed = 0.05 // of the weight
	tapeAllowed   = 0.02 // of the measure
	eventAllowed  = 5 * time.Minute
)

// agrees sets an answer beside the truth of its place; why says what is wrong. A scale may be off by one where both
// steps of it weigh the same: five and six are both usual, two and three are not the same level.
func agrees(step exam.Step, answer, truth exam.Value) (right bool, why string) {
	switch step.Kind {
	case exam.KindPick, exam.KindMarks:
		return sameWords(step, answer.Words, truth.Words)
	case exam.KindScale:
		return sameScore(step, answer, truth)
	case exam.KindEvent:
		return sameEvent(answer, truth)
	case exam.KindNumber, exam.KindTime, exam.KindWeight:
		return near(step, answer, truth)
	case exam.KindCount, exam.KindNote:
	}
	return true, ""
}

func sameWords(step exam.Step, answer, truth []string) (bool, string) {
	var lacks, extra []string
	for _, key := range truth {
		if !slices.Contains(answer, key) {
			lacks = append(lacks, wordsOf(step, key))
		}
	}
	for _, key := range answer {
		if !slices.Contains(truth, key) {
			extra = append(extra, wordsOf(step, key))
		}
	}
	var parts []string
	if len(lacks) > 0 {
		parts = append(parts, "left out: "+strings.Join(lacks, ", "))
	}
	if len(extra) > 0 {
		parts = append(parts, "not there: "+strings.Join(extra, ", "))
	}
	if len(parts) > 0 && step.Kind == exam.KindPick {
		return false, "another word fits"
	}
	return len(parts) == 0, strings.Join(parts, "; ")
}

func wordsOf(step exam.Step, key string) string {
	if c, ok := step.Choice(key); ok {
		return c.Words
	}
	return key
}

// sameEvent allows a moment to be off by the minutes to which a card is written.
func sameEvent(answer, truth exam.Value) (bool, string) {
	switch {
	case answer.Has(exam.EventSeen) != truth.Has(exam.EventSeen):
		return false, "another word fits"
	case truth.At == nil:
		return true, ""
	case answer.At == nil:
		return false, "the time was to be had: " + truth.At.Format("15:04")
	}
	if off := answer.At.Sub(*truth.At).Abs(); off > eventAllowed {
		return false, fmt.Sprintf("%s off, allowed %s", age(off), age(eventAllowed))
	}
	return true, ""
}

func sameScore(step exam.Step, answer, truth exam.Value) (bool, string) {
	a, levelA, okA := scoreOf(step, answer)
	b, levelB, okB := scoreOf(step, truth)
	switch {
	case !okA || !okB:
		return false, "no score of this scale"
	case a == b:
		return true, ""
	case math.Abs(a-b) <= 1 && levelA == levelB:
		off := map[bool]string{true: "one", false: "half a score"}[math.Abs(a-b) == 1]
		return true, off + " off, of the same weight"
	}
	return false, fmt.Sprintf("%s off on the scale", notation.FormatNumber(math.Abs(a-b), 1))
}

// scoreOf is the score of an answer and the level it stands at; between two
// choices the higher of theirs.
func scoreOf(step exam.Step, v exam.Value) (score float64, level exam.Level, ok bool) {
	if len(v.Words) > 0 {
		c, ok := step.Choice(v.Words[0])
		return c.Score, c.Level, ok
	}
	if score, ok = v.In(notation.Points); !ok {
		return 0, 0, false
	}
	for _, c := range step.Choices {
		if math.Abs(c.Score-score) < 1 {
			level = max(level, c.Level)
		}
	}
	return score, level, true
}

func near(step exam.Step, answer, truth exam.Value) (right bool, why string) {
	t, ok := truth.In(step.Unit)
	a, answered := answer.In(step.Unit)
	switch {
	case len(answer.Parts) > 0 && answer.Bound != exam.NoBound:
		return false, partsOff(step, answer, truth)
	case !ok || !answered:
		return false, "no number to set beside it"
	}
	allowed := 0.0
	switch {
	case step.ID == "temp.rectal":
		allowed = tempAllowedC
	case step.Kind == exam.KindTime:
		allowed = max(timeAllowedS, timeAllowed*t)
	case step.Kind == exam.KindWeight:
		allowed = weightAllowed * t
	case step.Unit == notation.Centimetre:
		allowed = tapeAllowed * t
	}
	if math.Abs(a-t) <= allowed+1e-9 {
		return true, ""
	}
	side := "high"
	if a < t {
		side = "low"
	}
	off := notation.Quantity{Value: math.Abs(a - t), Unit: step.Unit}
	limit := notation.Quantity{Value: allowed, Unit: step.Unit}
	why = fmt.Sprintf("%s too %s, allowed %s", off.Text(1), side, limit.Text(2))
	if parts := partsOff(step, answer, truth); parts != "" {
		why += "; " + parts
	}
	return false, why
}

// partsOff names the parts of an answer that were left out, or that score otherwise than the truth does.
func partsOff(step exam.Step, answer, truth exam.Value) string {
	if len(answer.Parts) == 0 {
		return ""
	}
	var lacks, other []string
	for _, p := range step.Parts.List {
		a, seen := answer.Parts[p.Key]
		b, told := truth.Parts[p.Key]
		switch {
		case !seen:
			lacks = append(lacks, p.Words)
		case told && a != b:
			other = append(other, p.Words+" "+notation.FormatNumber(b, 1))
		}
	}
	var parts []string
	if len(lacks) > 0 {
		parts = append(parts, "left out: "+strings.Join(lacks, ", "))
	}
	if len(other) > 0 {
		parts = append(parts, "true: "+strings.Join(other, ", "))
	}
	return strings.Join(parts, "; ")
}
