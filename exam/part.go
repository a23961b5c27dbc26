package exam

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"loosebox/exam/notation"
)

// Part is one place or sign that is scored on its own: the ribs of a condition
// score, the ears of a grimace.
type Part struct {
	Key   string // stored; stable, unique in its step
	Words string // at most 30 columns
	Hint  string // what to look or feel for, one line; may be empty
}

// Parts says how the total of a step is put together. A step with parts can be
// answered part by part, or with its total at once; a step without has an empty
// List.
type Parts struct {
	List   []Part
	Noun   string // of one part: "area", "sign"
	Score  Span   // of one part
	Halves bool   // half scores are taken
	Says   string // what the scores of one part stand for, one line; may be empty
	// Mean says that the total is the mean of all parts, to the nearest half,
	// half-way upwards; it needs every part. Otherwise it is their sum, and with
	// parts left out at least that.
	Mean bool
}

// HalfUp rounds to the nearest half, and halfway upwards, also where binary fractions leave a mean
// of halves just below.
func HalfUp(v float64) float64 { return math.Floor(v*2+0.5+1e-9) / 2 }

// PartsValue is the answer made of the scores of a step's parts, by their keys;
// a part that was not seen is left out. The total can be made again from the
// value's own Parts. The error is a *notation.Refusal.
func (s Step) PartsValue(scores map[string]float64) (Value, error) {
	p := s.Parts
	kept, total := make(map[string]float64, len(scores)), 0.0
	var missing []string
	for _, part := range p.List {
		score, ok := scores[part.Key]
		if !ok {
			missing = append(missing, part.Words)
			continue
		}
		if !p.takes(score) {
			return Value{}, &notation.Refusal{Why: fmt.Sprintf("%s is no score of %s: %s", notation.FormatNumber(score, 2), part.Words, p.Range())}
		}
		kept[part.Key] = score
		total += score
	}
	switch {
	case len(kept) < len(scores):
		return Value{}, &notation.Refusal{Why: fmt.Sprintf("%s has no such %s", strings.ToLower(s.Name), p.Noun)}
	case len(kept) == 0:
		return Value{}, &notation.Refusal{Why: "no " + p.Noun + " is scored yet"}
	case p.Mean && len(missing) > 0:
		return Value{}, &notation.Refusal{Why: fmt.Sprintf("the score needs every %s; not scored: %s", p.Noun, strings.Join(missing, ", "))}
	case p.Mean:
		total = HalfUp(total / float64(len(kept)))
	}
	v := Value{Kind: s.Kind, Number: &notation.Quantity{Value: total, Unit: notation.Points}}
	if s.Kind == KindScale {
		var err error
		if v, err = s.ScoreValue(total); err != nil {
			return Value{}, err
		}
	}
	if len(missing) > 0 {
		v.Bound = AtLeast
	}
	v.Parts = kept
	return v, nil
}

// Range is how the score of one part is written: "1 to 9, halves too".
func (p Parts) Range() string {
	text := notation.FormatNumber(p.Score.Low, 0) + " to " + notation.FormatNumber(p.Score.High, 0)
	if p.Halves {
		text += ", halves too"
	}
	return text
}

func (p Parts) takes(score float64) bool {
	scale := 1.0
	if p.Halves {
		scale = 2
	}
	return p.Score.Contains(score) && score*scale == math.Floor(score*scale)
}

// ScoreValue is the answer of a scale step by its score: one of its choices, or
// half-way between two of them where the step takes halves. The error is a
// *notation.Refusal.
func (s Step) ScoreValue(score float64) (Value, error) {
	for _, c := range s.Choices {
		if c.Score == score {
			return s.ChoiceValue(c.Key)
		}
	}
	if _, _, ok := s.between(score); s.Parts.Halves && ok && score*2 == math.Floor(score*2) {
		return Value{Kind: s.Kind, Number: &notation.Quantity{Value: score, Unit: notation.Points}}, nil
	}
	return Value{}, &notation.Refusal{Why: fmt.Sprintf("%s is no score of %s", notation.FormatNumber(score, 2), strings.ToLower(s.Name))}
}

// between gives the two neighbouring choices that a score lies between.
func (s Step) between(score float64) (below, above Choice, ok bool) {
	for i := 1; i < len(s.Choices); i++ {
		if s.Choices[i-1].Score < score && score < s.Choices[i].Score {
			return s.Choices[i-1], s.Choices[i], true
		}
	}
	return Choice{}, Choice{}, false
}

// readParts reads the scores of all parts in their order, "5 5 6 5 5.5 5", with a
// hyphen for what was not seen; false where the text is nothing like it.
func (s Step) readParts(text string) (Value, bool, error) {
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ';' || r == '/' })
	if len(s.Parts.List) == 0 || len(fields) < 2 {
		return Value{}, false, nil
	}
	scores := map[string]float64{}
	for i, f := range fields {
		if f == "-" {
			continue
		}
		score, err := strconv.ParseFloat(strings.Replace(f, ",", ".", 1), 64)
		if err != nil || math.IsNaN(score) {
			return Value{}, false, nil
		}
		if i < len(s.Parts.List) {
			scores[s.Parts.List[i].Key] = score
		}
	}
	if len(fields) != len(s.Parts.List) {
		return Value{}, true, &notation.Refusal{Typed: notation.CleanLine(text, 60), Why: fmt.Sprintf("%s has %d %ss, and %d scores were given; a hyphen stands for one that was not seen",
			strings.ToLower(s.Name), len(s.Parts.List), s.Parts.Noun, len(fields))}
	}
	v, err := s.PartsValue(scores)
	v.Typed = notation.CleanLine(text, 60)
	return v, true, err
}

// ShowParts writes the parts of a value in the order of its step, "neck 5, ribs
// 4.5"; empty where the total was given at once.
func (v Value) ShowParts(s Step) string {
	var words []string
	for _, p := range s.Parts.List {
		if score, ok := v.Parts[p.Key]; ok {
			words = append(words, p.Words+" "+notation.FormatNumber(score, 1))
		} else if len(v.Parts) > 0 {
			words = append(words, p.Words+" not seen")
		}
	}
	return strings.Join(words, ", ")
}
