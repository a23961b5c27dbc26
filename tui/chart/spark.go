package chart

import "loosebox/tui/theme"

// Spark draws values, oldest first, as one character each, whose height lies between the lowest and the highest of them. Of
// more than width values the newest are drawn. Equal values are drawn at half height. Empty for fewer than two values.
func Spark(t *theme.Theme, values []float64, width int) string {
	if len(values) > width {
		values = values[len(values)-max(width, 0):]
	}
	if len(values) < 2 {
		return ""
	}
	low, high := values[0], values[0]
	for _, v := range values {
		low, high = min(low, v), max(high, v)
	}
	steps := []rune(t.Sign.Spark)
	out := make([]rune, len(values))
	for i, v := range values {
		at := float64(len(steps)-1) / 2
		if high > low {
			at = (v - low) / (high - low) * float64(len(steps)-1)
		}
		out[i] = steps[min(max(int(at+0.5), 0), len(steps)-1)]
	}
	return string(out)
}
