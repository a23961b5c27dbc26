package report

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func seen(phase exam.InjectionPhase) string {
	if phase == "" {
		return "not recorded yet"
	}
	return phase.String()
}

func turned(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d inversions", n)
}

func ml(v float64) string {
	if v <= 0 {
		return ""
	}
	return notation.FormatNumber(v, 3) + " mL"
}

func named(name, value string) string {
	if value == "" {
		return ""
	}
	return name + " " + value
}

func quoted(text string) string {
	if text == "" {
		return ""
	}
	return `"` + text + `"`
}

func yes(is bool, then, otherwise string) string {
	if is {
		return then
	}
	return otherwise
}

// join joins the parts that are not empty.
func join(sep string, parts ...string) string {
	return strings.Join(slices.DeleteFunc(slices.Clone(parts), func(s string) bool { return s == "" }), sep)
}
