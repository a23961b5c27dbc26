package exam

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"loosebox/exam/notation"
)

// ReadAnswer reads a whole answer to a step from one line of text, as the plain
// prompts, scripts and imported columns give it. Number, count and time steps
// take a number; a time step takes up to three, and their median counts; pick,
// marks and scale steps take a key, its words, the beginning of either, or the
// number of the choice in its list (a scale its score); marks are separated by
// commas; a note takes any text. A step with parts takes the score of each in
// their order, a hyphen for one that was not seen. "usual" is taken where usual is
// a defined answer. An event step takes "seen", "not yet" or a whole date and time
// (see ReadEvent for a time of day). Errors are those of ReadNumber, or a *notation.Refusal.
func (s Step) ReadAnswer(text string, prefer notation.Unit) (Value, error) {
	if strings.EqualFold(strings.TrimSpace(text), "usual") {
		if v, ok := s.UsualValue(); ok {
			return v, nil
		}
		if s.Kind == KindCount || s.Kind == KindNumber || s.Kind == KindWeight || s.Kind == KindTime {
			return Value{}, &notation.Refusal{Typed: "usual", Why: strings.ToLower(s.Name) + " is measured and has no usual answer"}
		}
	}
	if v, ok, err := s.readParts(text); ok {
		return v, err
	}
	switch s.Kind {
	case KindCount, KindNumber, KindWeight:
		return s.readOne(text, prefer)
	case KindTime:
		return s.readTimes(text)
	case KindPick, KindScale:
		if score, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(text), ",", ".", 1), 64); err == nil && s.Parts.Halves {
			return s.ScoreValue(score)
		}
		c, err := s.readChoice(text)
		if err != nil {
			return Value{}, err
		}
		return s.ChoiceValue(c.Key)
	case KindMarks:
		return s.readMarks(text)
	case KindEvent:
		return s.readEvent(text)
	case KindNote:
		return Value{Kind: KindNote, Text: notation.CleanNote(text)}, nil
	}
	return Value{}, fmt.Errorf("a step of the unknown kind %q", s.Kind)
}

// UsualValue is the answer that the one key for usual stands for; false where
// usual is no defined answer.
func (s Step) UsualValue() (Value, bool) {
	if len(s.Usual) == 0 {
		return Value{}, false
	}
	v, err := s.ChoiceValue(s.Usual...)
	v.Usual = true
	return v, err == nil
}

// ChoiceValue is the answer made of the given choices.
func (s Step) ChoiceValue(keys ...string) (Value, error) {
	v := Value{Kind: s.Kind, Words: append([]string(nil), keys...)}
	for _, key := range keys {
		c, ok := s.Choice(key)
		if !ok {
			return Value{}, &notation.Refusal{Typed: key, Why: fmt.Sprintf("%q is no choice of %s", notation.CleanLine(key, 40), strings.ToLower(s.Name))}
		}
		if s.Kind == KindScale {
			v.Number = &notation.Quantity{Value: c.Score, Unit: notation.Points}
		}
		for _, alone := range s.Alone {
			if key == alone && len(keys) > 1 {
				return Value{}, &notation.Refusal{Typed: key, Why: fmt.Sprintf("%q cannot stand beside another mark", c.Words)}
			}
		}
	}
	return v, nil
}

// TimesValue is the answer made of the times of a time step, in seconds.
func (s Step) TimesValue(trials []float64) (Value, error) {
	if len(trials) == 0 || len(trials) > 3 {
		return Value{}, &notation.Refusal{Why: "one to three times are taken"}
	}
	for _, t := range trials {
		if !s.Possible.Contains(t) || math.IsNaN(t) {
			return Value{}, &notation.Refusal{Why: fmt.Sprintf("%s s is not possible for %s", notation.FormatNumber(t, 2), strings.ToLower(s.Name))}
		}
	}
	q := notation.Quantity{Value: Median(trials), Unit: notation.Seconds}
	return Value{Kind: s.Kind, Number: &q, TrialsS: append([]float64(nil), trials...)}, nil
}

// Median is the middle of the values, or the mean of the two middle ones; NaN
// where there are none. The values keep their order.
func Median(values []float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := append([]float64(nil), values...)
	sort.Float64s(sorted)
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// readOne reads a number; an unlikely one comes back together with its error.
func (s Step) readOne(text string, prefer notation.Unit) (Value, error) {
	q, err := s.ReadNumber(text, prefer)
	if err != nil && !errors.Is(err, ErrUnlikely) {
		return Value{}, err
	}
	v := Value{Kind: s.Kind, Number: &q, Typed: notation.CleanLine(text, 40)}
	if s.Kind == KindCount {
		v.Count = &Count{Method: CountTyped}
	}
	return v, err
}

func (s Step) readTimes(text string) (Value, error) {
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '\t' })
	var trials []float64
	for _, f := range fields {
		if u, ok := notation.UnitNamed(f); ok && u == notation.Seconds && len(trials) > 0 {
			continue // the unit of the number before it, typed with a space
		}
		q, err := notation.ParseQuantity(f)
		if err != nil {
			return Value{}, err
		}
		if q.Unit != notation.NoUnit && q.Unit != notation.Seconds {
			return Value{}, &notation.Refusal{Typed: f, Why: fmt.Sprintf("%s is measured in seconds", strings.ToLower(s.Name))}
		}
		trials = append(trials, q.Value)
	}
	v, err := s.TimesValue(trials)
	v.Typed = notation.CleanLine(text, 60)
	return v, err
}

// printed is the choice that a text repeats as a prompt prints it: "2 calm, tied" with its number or score, its words
// alone, or its key.
func (s Step) printed(text string) (Choice, bool) {
	clean := strings.ToLower(notation.CleanLine(text, notation.MaxNote))
	number, rest, _ := strings.Cut(clean, " ")
	for _, c := range slices.Concat(s.Choices, s.Others) {
		words := strings.ToLower(notation.CleanLine(c.Words, notation.MaxNote))
		if clean == words || clean == strings.ToLower(c.Key) {
			return c, true
		}
		if by, ok := s.choiceByNumber(number); ok && by.Key == c.Key && strings.TrimSpace(rest) == words {
			return c, true
		}
	}
	return Choice{}, false
}

func (s Step) readMarks(text string) (Value, error) {
	if c, ok := s.printed(text); ok { // words may hold commas
		return s.ChoiceValue(c.Key)
	}
	var keys []string
	seen := map[string]bool{}
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		if strings.TrimSpace(part) == "" {
			continue
		}
		c, err := s.readChoice(part)
		if err != nil {
			return Value{}, err
		}
		if !seen[c.Key] {
			seen[c.Key] = true
			keys = append(keys, c.Key)
		}
	}
	if len(keys) == 0 {
		return Value{}, &notation.Refusal{Why: "no mark was named"}
	}
	return s.ChoiceValue(keys...)
}

// readChoice finds the one choice that a text means.
func (s Step) readChoice(text string) (Choice, error) {
	clean := strings.ToLower(notation.CleanLine(text, 80))
	if clean == "" {
		return Choice{}, &notation.Refusal{Why: "nothing was chosen"}
	}
	if c, ok := s.choiceByNumber(clean); ok {
		return c, nil
	}
	if c, ok := s.printed(text); ok {
		return c, nil
	}
	var starts []Choice
	for _, c := range s.Choices {
		key, words := strings.ToLower(c.Key), strings.ToLower(c.Words)
		if strings.HasPrefix(key, clean) || strings.HasPrefix(words, clean) {
			starts = append(starts, c)
		}
	}
	switch len(starts) {
	case 1:
		return starts[0], nil
	case 0:
		return Choice{}, &notation.Refusal{Typed: clean, Why: fmt.Sprintf("%q is no choice of %s: %s", clean, strings.ToLower(s.Name), s.choiceList())}
	default:
		return Choice{}, &notation.Refusal{Typed: clean, Why: fmt.Sprintf("%q could be %s or %s", clean, starts[0].Words, starts[1].Words)}
	}
}

func (s Step) choiceByNumber(text string) (Choice, bool) {
	n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err != nil {
		return Choice{}, false
	}
	if s.Kind == KindScale {
		for _, c := range s.Choices {
			if c.Score == n {
				return c, true
			}
		}
		return Choice{}, false
	}
	if i := int(n); float64(i) == n && i >= 1 && i <= len(s.Choices) {
		return s.Choices[i-1], true
	}
	return Choice{}, false
}

func (s Step) choiceList() string {
	words := make([]string, len(s.Choices))
	for i, c := range s.Choices {
		words[i] = c.Words
	}
	return strings.Join(words, ", ")
}
