package notation_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/notation"
)

// Signs that show nothing make no two names of one: they are dropped, but for the
// joiners of scripts that need them (Unicode, UAX #31, 2.3).
func TestNamesHoldNoHiddenSigns(t *testing.T) {
	for in, want := range map[string]string{
		"Brac\u200dken":            "Bracken",
		"\u200dBracken\u200c":      "Bracken",
		"Brac\u2060ken\ufeff":      "Bracken",
		"Brac\u00adken":            "Bracken",
		"Brac\u034fken\u3164":      "Bracken",
		"Brac\u2800ken":            "Bracken",
		"\u0915\u094d\u200d\u0937": "\u0915\u094d\u200d\u0937", // Devanagari, half form
		"\u0645\u06cc\u200c\u062e": "\u0645\u06cc\u200c\u062e", // Persian
		"\u0645\u200dx":            "\u0645x",
		"Zoë":                      "Zoë",
	} {
		assert.Equal(t, want, notation.CleanLine(in, 0), "%+q", in)
	}
}
