package notation

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Plain writes a number as a person reads it beside a needle: four figures that
// count, a zero always before the point, none at the end (0.5, not .5; 5, not
// 5.0). The rule is from memory: safe-writing lists of medication safety bodies.
func Plain(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "no number"
	}
	decimals := 0
	if v != 0 {
		decimals = min(12, max(0, 3-int(math.Floor(math.Log10(math.Abs(v))))))
	}
	return FormatNumber(v, decimals)
}

// Figures writes a number with so many figures: 1.98 of 1.979 with three.
func Figures(v float64, figures int) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return Plain(v)
	}
	return FormatNumber(v, min(12, max(0, figures-1-int(math.Floor(math.Log10(math.Abs(v)))))))
}

// Between writes the two ends of a range with the same number of decimals, at most so many: "37.0-38.5", "28-44".
func Between(low, high float64, decimals int) string {
	a, b := FormatNumber(low, decimals), FormatNumber(high, decimals)
	_, partA, _ := strings.Cut(a, ".")
	_, partB, _ := strings.Cut(b, ".")
	if fine := max(len(partA), len(partB)); Finite(low) && Finite(high) {
		a, b = strconv.FormatFloat(low, 'f', fine, 64), strconv.FormatFloat(high, 'f', fine, 64)
	}
	return a + "-" + b
}

// Ends is Between where one end, or both, may be open: "to 52", "from 1.5"; empty for two open ends.
func Ends(low, high *float64, decimals int) string {
	switch {
	case low != nil && high != nil:
		return Between(*low, *high, decimals)
	case high != nil:
		return "to " + FormatNumber(*high, decimals)
	case low != nil:
		return "from " + FormatNumber(*low, decimals)
	}
	return ""
}

// Finite says that v is neither NaN nor infinite.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Tidy rounds a result to twelve significant figures, which removes the error of binary fractions.
func Tidy(v float64) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 12, 64), 64)
	if err != nil {
		return v
	}
	return out
}

// SplitNumber reads the number at the head of a text and gives the rest, lower
// case and without spaces. A comma or a point that could be a thousands mark is
// refused rather than guessed: 1,000 mg is not 1 mg. The error is a *Refusal.
func SplitNumber(text string) (value float64, rest string, err error) {
	clean := CleanLine(text, 40)
	i := 0
	for i < len(clean) && strings.ContainsRune("0123456789.,", rune(clean[i])) {
		i++
	}
	digits := clean[:i]
	rest = strings.ToLower(strings.Join(strings.Fields(clean[i:]), ""))
	refuse := func(why, meant string) (float64, string, error) {
		return 0, "", &Refusal{Typed: clean, Why: why, Meant: meant}
	}
	if strings.Count(digits, ".")+strings.Count(digits, ",") > 1 {
		return refuse(fmt.Sprintf("%q has more than one decimal point", digits), "")
	}
	whole, part, comma := strings.Cut(digits, ",")
	if !comma {
		whole, part, _ = strings.Cut(digits, ".")
	}
	if len(part) == 3 && strings.Trim(whole, "0") != "" && (comma || strings.HasSuffix(part, "0")) {
		return refuse(fmt.Sprintf("%q could be %s or %s", digits, whole+part, strings.TrimRight(whole+"."+strings.TrimRight(part, "0"), ".")),
			whole+part+", without a mark between the thousands")
	}
	value, err = strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
	if clean == "" {
		return refuse("nothing is written yet: a number and its unit", "")
	}
	if err != nil || math.IsInf(value, 0) {
		return refuse(fmt.Sprintf("%q does not begin with a number", clean), "")
	}
	return value, rest, nil
}

// Usable says that a number is finite and above zero.
func Usable(v float64) bool { return v > 0 && !math.IsInf(v, 0) }
