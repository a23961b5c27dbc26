package judge

import (
	"regexp"
	"sync"

	"loosebox/exam/notation"
)

// bothUnits finds a temperature that a sentence gives in both units: "39 C (102 F)".
var bothUnits = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(\d[\d.]*) C \((\d[\d.]*) F\)`) })

// oneUnit leaves a sentence the unit in which the person reads, where that is set: nobody
// compares two numbers while a horse waits.
func (j *Judge) oneUnit(text string) string {
	switch {
	case len(j.units) == 0:
		return text
	case j.units[notation.Celsius] == notation.Fahrenheit:
		return bothUnits().ReplaceAllString(text, "$2 F")
	default:
		return bothUnits().ReplaceAllString(text, "$1 C")
	}
}
