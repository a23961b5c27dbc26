package intake

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// answer is what one cell says of one step: a value, or why there is none.
type answer struct {
	value   exam.Value
	notDone string // the reason; the value is then empty
	// unlikely says what is possible but hardly ever seen; it is taken all the same.
	unlikely string
}

// leastPrefix is how many letters of a choice must be there to be taken for it.
const leastPrefix = 3

// readCell reads the text of a cell as the answer to a step. A bare number is in
// the given unit, or in the step's own, and never guessed to be in another.
// "under 3 s", "< 3 s", "3 s or more", ">= 3" are numbers known as a bound;
// "not done" and "not done: unsafe" are a step passed over.
func readCell(s exam.Step, text string, unit notation.Unit) (answer, error) {
	text = notation.CleanNote(text)
	if reason, ok := readNotDone(text); ok {
		return answer{notDone: reason}, nil
	}
	var v exam.Value
	var err error
	switch s.Kind {
	case exam.KindCount, exam.KindNumber, exam.KindWeight, exam.KindTime:
		v, err = readFigure(s, text, unit)
	case exam.KindPick, exam.KindMarks, exam.KindScale:
		v, err = readWords(s, text)
	case exam.KindNote, exam.KindEvent:
		v, err = s.ReadAnswer(text, notation.NoUnit)
	}
	a := answer{value: v}
	if errors.Is(err, exam.ErrUnlikely) {
		a.unlikely = fmt.Sprintf("%s is hardly ever seen for %s; it was taken as it stands", v.Show(s), strings.ToLower(s.Name))
		err = nil
	}
	if s.Kind != exam.KindNote {
		a.value.Typed = notation.CleanLine(text, 60)
	}
	return a, err
}

// readNotDone reads "not done", "not done: reason", "not done, reason".
func readNotDone(text string) (string, bool) {
	if len(text) < len("not done") || !strings.EqualFold(text[:len("not done")], "not done") {
		return "", false
	}
	reason := strings.TrimSpace(text[len("not done"):])
	if reason == "" {
		return string(exam.ReasonNotRecorded), true
	}
	if reason[0] != ':' && reason[0] != ',' {
		return "", false
	}
	if reason = strings.TrimSpace(reason[1:]); reason == "" {
		reason = string(exam.ReasonNotRecorded)
	}
	return notation.CleanLine(reason, 0), true
}

func readFigure(s exam.Step, text string, unit notation.Unit) (exam.Value, error) {
	if bound, rest := readBound(text); bound != exam.NoBound {
		v, err := readFigure(s, rest, unit)
		if v.Bound != exam.NoBound {
			return exam.Value{}, &notation.Refusal{Typed: text, Why: "that names two bounds"}
		}
		v.Bound, v.TrialsS = bound, nil
		return v, err
	}
	if s.Kind == exam.KindTime {
		return readTimes(s, text, unit)
	}
	return s.ReadAnswer(withUnit(s, text, unit), unit)
}

// readTimes reads one time, or up to three separated by spaces or semicolons.
func readTimes(s exam.Step, text string, unit notation.Unit) (exam.Value, error) {
	if _, err := notation.ParseQuantity(text); err != nil && strings.ContainsAny(text, " ;") {
		return s.ReadAnswer(text, unit)
	}
	q, err := s.ReadNumber(withUnit(s, text, unit), unit)
	if err != nil && !errors.Is(err, exam.ErrUnlikely) {
		return exam.Value{}, err
	}
	v, bad := s.TimesValue([]float64{q.Value})
	if bad != nil {
		return v, bad
	}
	return v, err
}

// withUnit writes the unit behind a bare number, so that it is read in that unit
// or refused, and not taken in another one that would fit.
func withUnit(s exam.Step, text string, unit notation.Unit) string {
	q, err := notation.ParseQuantity(text)
	if err != nil || q.Unit != notation.NoUnit {
		return text
	}
	if unit == notation.NoUnit {
		unit = s.Unit
	}
	if unit == notation.Points {
		return text
	}
	return text + " " + string(unit)
}

var (
	boundBefore = regexp.MustCompile(`^(?i)(<=|≤|>=|≥|<|>|under|below|less than|up to|at most|over|above|more than|at least)\s*(.*)$`)
	boundAfter  = regexp.MustCompile(`^(?i)(.*\S)\s+or\s+(more|over|above|less|under|below)$`)
)

// readBound splits "under 3 s" or "3 s or more" into bound and number.
func readBound(text string) (exam.Bound, string) {
	if m := boundBefore.FindStringSubmatch(text); m != nil {
		return boundOf(m[1]), m[2]
	}
	if m := boundAfter.FindStringSubmatch(text); m != nil {
		switch strings.ToLower(m[2]) {
		case "more", "over", "above":
			return exam.AtLeast, m[1]
		}
		return exam.UpTo, m[1]
	}
	return exam.NoBound, text
}

func boundOf(word string) exam.Bound {
	switch strings.ToLower(word) {
	case "<", "under", "below", "less than":
		return exam.Under
	case "<=", "≤", "up to", "at most":
		return exam.UpTo
	case ">", "over", "above", "more than":
		return exam.Over
	}
	return exam.AtLeast
}

// readWords reads choices by key or by their words, whole or begun with at least
// three letters. A bare number is no place in a list here, as it may be at a
// prompt: in a table it is most likely somebody's own code.
func readWords(s exam.Step, text string) (exam.Value, error) {
	if key, ok := wholeChoice(s, text); ok {
		return s.ChoiceValue(key)
	}
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return s.Kind == exam.KindMarks && (r == ',' || r == ';') }) {
		part = strings.TrimSpace(part)
		if _, ok := wholeChoice(s, part); ok || part == "" {
			continue
		}
		_, err := strconv.ParseFloat(strings.Replace(part, ",", ".", 1), 64)
		if (err == nil && s.Kind != exam.KindScale) || (err != nil && len([]rune(part)) < leastPrefix) {
			return exam.Value{}, &notation.Refusal{Typed: part, Why: fmt.Sprintf("%s is no choice of %s: %s", ownfile.Quote(part), strings.ToLower(s.Name), keysOf(s))}
		}
	}
	return s.ReadAnswer(text, notation.NoUnit)
}

func wholeChoice(s exam.Step, text string) (string, bool) {
	for _, c := range s.Choices {
		if strings.EqualFold(c.Key, text) || strings.EqualFold(c.Words, text) {
			return c.Key, true
		}
	}
	return "", false
}

func keysOf(s exam.Step) string {
	keys := make([]string, len(s.Choices))
	for i, c := range s.Choices {
		keys[i] = c.Key
	}
	return strings.Join(keys, ", ")
}
