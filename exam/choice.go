package exam

import (
	"fmt"
	"slices"
)

// Choice is one answer of a pick, marks or scale step, and how it is judged.
type Choice struct {
	Key   string  // stored; stable, unique in its step
	Words string  // what a person reads, without the key
	Score float64 // of a scale step; 0 elsewhere
	Hint  string  // anchor or explanation, one line; may be empty
	Level Level   // how the choice stands on its own
	Of    []Sex   // the sexes that it can be of; nil for all
	// Why, Source and Evidence explain any level but usual: a sentence, a
	// source code of the ranges package, an evidence word.
	Why      string
	Source   string
	Evidence Evidence
}

// Fits says that the choice can be of an animal of a sex; of one whose sex is not known every choice can be.
func (c Choice) Fits(s Sex) bool {
	return len(c.Of) == 0 || s == "" || s == SexUnknown || slices.Contains(c.Of, s)
}

// For is the step as it is asked of an animal, with the choices that can be of its sex; where that is not known, or two
// laptops differ about it, with all. Choices of the answers that stand come last if they do not fit: they can be taken back,
// and the others keep the numbers of the sheet. What is left out is in Others.
func (s Step) For(h Horse, stands ...Value) Step {
	if slices.ContainsFunc(h.Differ, func(d HorseDispute) bool { return d.Field == "sex" }) {
		return s
	}
	var fit, stored []Choice
	s.Others = nil
	for _, c := range s.Choices {
		switch {
		case c.Fits(h.Sex):
			fit = append(fit, c)
		case slices.ContainsFunc(stands, func(v Value) bool { return slices.Contains(v.Words, c.Key) }):
			stored = append(stored, c)
		default:
			s.Others = append(s.Others, c)
		}
	}
	s.Choices = append(fit, stored...)
	return s
}

// ChoicesOf makes keys the choices of a form or a question, in their words.
func ChoicesOf[K interface {
	~string
	fmt.Stringer
}](keys []K) []Choice {
	out := make([]Choice, len(keys))
	for i, k := range keys {
		out[i] = Choice{Key: string(k), Words: k.String()}
	}
	return out
}

// Sizes says that choices begin with digits themselves ("5 mL"), so that they are
// not numbered: beside a number, 5 would choose the fifth.
func Sizes(choices []Choice) bool {
	return slices.ContainsFunc(choices, func(c Choice) bool { return c.Words != "" && c.Words[0] >= '0' && c.Words[0] <= '9' })
}

// Choice returns the choice with the given key.
func (s Step) Choice(key string) (Choice, bool) {
	for _, c := range slices.Concat(s.Choices, s.Others) {
		if c.Key == key {
			return c, true
		}
	}
	return Choice{}, false
}
