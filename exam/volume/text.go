package volume

import (
	"math"

	"loosebox/exam/notation"
)

// Plain is notation.Plain: a number as a person reads it beside a needle.
func Plain(v float64) string { return notation.Plain(v) }

// tidy takes the noise of binary fractions off a result.
func tidy(v float64) float64 { return notation.Tidy(v) }

// usable says that a number is finite and above zero.
func usable(v float64) bool { return v > 0 && !math.IsInf(v, 0) }

// split reads the number at the head of a text and gives the rest.
func split(text string) (value float64, rest string, err error) { return notation.SplitNumber(text) }

// Change writes a change in percent with its sign, as finely as a syringe is read: one
// decimal, and what is less than that as such.
func Change(percent float64) string {
	switch {
	case percent > 0 && percent < 0.05:
		return "less than +0.1"
	case percent < 0 && percent > -0.05:
		return "less than -0.1"
	case percent > 0:
		return "+" + notation.FormatNumber(percent, 1)
	}
	return notation.FormatNumber(percent, 1)
}

// Share writes a percentage that nobody measures finely: two decimals, and what is
// less than that as such.
func Share(percent float64) string {
	if percent > 0 && percent < 0.01 {
		return "under 0.01"
	}
	return notation.FormatNumber(percent, 2)
}
