package intake

import (
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/ownfile"
)

// choice reads a key that takes one of a few words.
func (f *mapForm) choice(c *column, key string, line int, text string) {
	lower := strings.ToLower(text)
	allowed := map[string][]string{"else": {asWritten, ignored}, "blank": {asAbove}, "weights": {takeIt, leaveOut, askWord}}[key]
	if !slices.Contains(allowed, lower) {
		f.AddAt(line, c.name, "%s: is %s, not %s", key, strings.Join(allowed, " or "), ownfile.Quote(text))
		return
	}
	switch key {
	case "else":
		c.otherwise = lower
	case "blank":
		c.above = true
	case "weights":
		if lower != askWord {
			c.heavy = lower
		}
	}
}

// unit reads one unit, "C or F", or ask.
func (f *mapForm) unit(c *column, line int, text string) {
	if strings.EqualFold(text, askWord) {
		c.asked = "which unit its numbers have"
		return
	}
	parts := strings.Split(text, " or ")
	for _, part := range parts {
		q, err := notation.ParseQuantity("1 " + part)
		if err != nil || q.Unit == notation.NoUnit {
			f.AddAt(line, c.name, "%s is no unit that is known here", ownfile.Quote(part))
		}
		c.unit = q.Unit
	}
	if len(parts) > 1 {
		c.either, c.unit = true, notation.NoUnit
	}
}

// settles says that no number is possible for a step in two of its units.
func settles(s exam.Step) bool {
	for i, a := range s.Units {
		for _, b := range s.Units[:i] {
			low, ok := notation.Quantity{Value: s.Possible.Low, Unit: s.Unit}.In(a)
			high, _ := notation.Quantity{Value: s.Possible.High, Unit: s.Unit}.In(a)
			low2, _ := notation.Quantity{Value: s.Possible.Low, Unit: s.Unit}.In(b)
			high2, _ := notation.Quantity{Value: s.Possible.High, Unit: s.Unit}.In(b)
			if !ok || low.Value <= high2.Value && low2.Value <= high.Value {
				return false
			}
		}
	}
	return len(s.Units) > 1
}

func takesUnit(s exam.Step, u notation.Unit) bool {
	for _, own := range s.Units {
		if own == u {
			return true
		}
	}
	return s.Unit == u
}
