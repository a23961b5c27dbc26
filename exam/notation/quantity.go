package notation

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Refusal says why something typed is not taken, and what was probably meant.
type Refusal struct {
	Typed string
	Why   string // a sentence
	Meant string // what to type instead; empty where nothing is likely
}

// Error is the refusal as one sentence.
func (r *Refusal) Error() string {
	if r.Meant == "" {
		return r.Why
	}
	return fmt.Sprintf("%s; did you mean %s?", r.Why, r.Meant)
}

// UnitNamed is the unit that people mean by what they type after a number; false for a word that is no unit. Nothing is NoUnit.
func UnitNamed(text string) (Unit, bool) {
	switch strings.ToLower(strings.Trim(text, " .°º")) {
	case "":
		return NoUnit, true
	case "c", "cel", "celsius":
		return Celsius, true
	case "f", "fahrenheit":
		return Fahrenheit, true
	case "/min", "min", "bpm", "per min", "a minute", "per minute":
		return PerMinute, true
	case "s", "sec", "second", "seconds":
		return Seconds, true
	case "kg", "kgs", "kilo", "kilos", "kilogram", "kilograms":
		return Kilograms, true
	case "lb", "lbs", "pound", "pounds":
		return Pounds, true
	case "cm", "centimetre", "centimeter", "centimetres", "centimeters":
		return Centimetre, true
	case "in", "inch", "inches", "\"":
		return Inch, true
	default:
		return NoUnit, false
	}
}

// ParseQuantity reads "38,4", "101.2F", "38.4 C" or "-2"; of lengths also "15.2hh", "6ft 3in" and "75½in", as inches. The unit is NoUnit
// where none was typed. It reads plain decimal numbers only: no exponent, no
// thousands separator, no NaN.
func ParseQuantity(text string) (Quantity, error) {
	clean := CleanLine(text, 40)
	if q, ok, err := readLength(clean); ok {
		return q, err
	}
	i := 0
	for i < len(clean) && strings.ContainsRune("0123456789.,+-", rune(clean[i])) {
		i++
	}
	digits, rest := clean[:i], clean[i:]
	u, ok := UnitNamed(rest)
	if !ok {
		return Quantity{}, &Refusal{Typed: clean, Why: fmt.Sprintf("%q is no unit that is known here", strings.TrimSpace(rest))}
	}
	if strings.Count(digits, ".")+strings.Count(digits, ",") > 1 {
		return Quantity{}, &Refusal{Typed: clean, Why: fmt.Sprintf("%q has more than one decimal point", digits)}
	}
	v, err := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return Quantity{}, &Refusal{Typed: clean, Why: "that is not a number"}
	}
	return Quantity{Value: v, Unit: u}, nil
}
