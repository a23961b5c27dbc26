package explain

import (
	"fmt"
	"strings"

	"loosebox/exam"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/score"
	"loosebox/exam/weight"
)

// Value says how a value was made: the formula of a count, the equation of a weight, the parts of a score.
func Value(j *judge.Judge, step exam.Step, v exam.Value, visit exam.Visit) []string {
	switch step.Kind {
	case exam.KindCount:
		return Count(v)
	case exam.KindWeight:
		return weight.ExplainRecorded(v.Weight, weight.AnimalOf(visit.Horse, visit.OpenedAt))
	case exam.KindTime:
		return Trials(v)
	case exam.KindEvent:
		return event(step, v, visit)
	case exam.KindNumber, exam.KindScale:
		if basis, ok := score.BasisOf(step.ID); ok {
			return scored(step, v, basis)
		}
		if step.Kind == exam.KindNumber {
			return typed(step, v)
		}
	case exam.KindPick, exam.KindMarks, exam.KindNote:
	}
	return words(j, step, v)
}

// Count says how a rate and its half-width are worked out.
func Count(v exam.Value) []string {
	c := v.Count
	if c == nil || c.Method == exam.CountTyped {
		return []string{"The rate was typed as it was read elsewhere; accuracy not known."}
	}
	if c.Method == exam.CountByEar {
		return []string{
			fmt.Sprintf("rate = 60 x %d counted / %s s; the count starts on a beat, which is zero", c.Counted, notation.FormatNumber(c.WindowS, 0)),
			fmt.Sprintf("accuracy 1.96 x 24.5 / %s s = %s /min: whole beats in a window (derived)", notation.FormatNumber(c.WindowS, 0), notation.FormatNumber(1.96*24.5/max(c.WindowS, 1), 1)),
			"source: start on a beat, count begins with the next: FEI Endurance Rules 2019, art. 821.2.3 (published)",
		}
	}
	lines := []string{fmt.Sprintf("rate = 60 x beats / (last tap - first tap); of %d taps the first %d are warm-up", len(c.TapsS), c.LeadIn)}
	if c.HalfWidth > 0 {
		lines = append(lines, fmt.Sprintf("accuracy %s /min = t x s / n, 95 %%. s: spread of the gaps, n: their number, t: of Student. It is of this count, not of the whole minute", notation.FormatNumber(c.HalfWidth, 1)),
			"above 67 /min up to 15 % is added for uneven taps. Derived: with one tap in twenty astray it covers 95 % at 40 to 140 /min")
	}
	for _, a := range c.Answers {
		what := "a pause of the heart"
		if a.Missed {
			what = "a missed tap, its beats put back"
		}
		lines = append(lines, fmt.Sprintf("the long gap after tap %d was answered as %s", a.AfterTap, what))
	}
	return append(lines, "source: first to last gives the true rate, except for two presses (derived; tested on real intervals)")
}

// Trials says which of several times is kept.
func Trials(v exam.Value) []string {
	if len(v.TrialsS) < 2 {
		return []string{"One time, from press to press; accuracy not known."}
	}
	times := make([]string, len(v.TrialsS))
	for i, s := range v.TrialsS {
		times[i] = notation.FormatNumber(s, 1)
	}
	return []string{"the median of " + strings.Join(times, ", ") + " s"}
}

func typed(step exam.Step, v exam.Value) []string {
	if v.Number == nil {
		return nil
	}
	text := v.Number.Text(2)
	if v.Typed != "" {
		text = notation.CleanLine(v.Typed, 20)
	}
	line := "as read from the instrument: " + text
	if to := step.Unit; v.Number.Unit != to && to != notation.NoUnit {
		if q, ok := v.Number.In(to); ok {
			line += fmt.Sprintf(" = %s by the exact factor (NIST SP 811)", q.Text(2))
		}
	}
	return []string{line}
}

// scored says what a score is made of and what the scale is.
func scored(step exam.Step, v exam.Value, b score.Basis) []string {
	var lines []string
	switch text := v.ShowParts(step); {
	case text != "":
		lines = append(lines, text)
	case len(step.Parts.List) > 0:
		lines = append(lines, "given as a whole, not part by part")
	default:
		lines = append(lines, v.Show(step))
	}
	return append(lines, based(b)...)
}

// based says what a score can be, and where that comes from.
func based(b score.Basis) []string {
	lines := []string{b.Name + ": " + b.Range, fmt.Sprintf("source: %s (%s)", strings.TrimSuffix(b.Source, "."), b.Evidence)}
	if b.Note != "" {
		lines = append(lines, b.Note)
	}
	return lines
}

// event sets the moment of an event against the birth.
func event(step exam.Step, v exam.Value, visit exam.Visit) []string {
	lines := []string{v.Show(step)}
	if born := visit.Horse.Birth; v.At != nil && born.Precision == exam.BornMinute {
		lines = append(lines, fmt.Sprintf("%d min after the birth at %s", int(v.At.Sub(born.At).Minutes()), born.At.In(v.At.Location()).Format("15:04")))
	}
	if b, ok := score.BasisOf(step.ID); ok {
		lines = append(lines, based(b)...)
	}
	return lines
}

// answers lists the answers of a step that stand out, with what is said of each and where that comes from.
func answers(j *judge.Judge, step exam.Step) []string {
	var lines []string
	for _, c := range step.Choices {
		if c.Level == 0 {
			continue
		}
		name := c.Words
		if step.Kind == exam.KindScale {
			name = notation.FormatNumber(c.Score, 1) + " " + c.Words
		}
		line := fmt.Sprintf("%s: %s", name, c.Level)
		if c.Why != "" {
			line += "; " + c.Why
		}
		if source := strings.TrimSuffix(j.Cite(c.Source), "."); source != "" {
			line += fmt.Sprintf(" Source: %s (%s).", source, c.Evidence)
		} else if c.Evidence != "" {
			line += fmt.Sprintf(" (%s)", c.Evidence)
		}
		lines = append(lines, line)
	}
	if len(lines) == 0 {
		return nil
	}
	return append(lines, "The other answers are usual.")
}

// words says what the chosen words stand for, with the source of those that stand out.
func words(j *judge.Judge, step exam.Step, v exam.Value) []string {
	var lines []string
	for _, key := range v.Words {
		c, ok := step.Choice(key)
		if !ok {
			continue
		}
		line := c.Words
		if c.Hint != "" {
			line += ": " + c.Hint
		}
		lines = append(lines, line)
		if source := j.Cite(c.Source); source != "" {
			lines = append(lines, fmt.Sprintf("source: %s (%s)", source, c.Evidence))
		} else if c.Evidence != "" {
			lines = append(lines, "evidence: "+c.Evidence.String())
		}
	}
	return lines
}
