package handoff

import (
	"strings"
	"unicode"
)

// PerMinute is how many words are read aloud in a minute at an even pace; from
// memory. MostWords keeps the page well under one minute.
const (
	PerMinute = 150
	MostWords = 130
)

// SpokenWords is how many words a text takes when it is read aloud. A number takes
// a word a digit, its point and its dash one each, a unit a minute two.
func SpokenWords(text string) int {
	n := 0
	for _, field := range strings.Fields(text) {
		n += spoken(field)
	}
	return n
}

func spoken(field string) int {
	field = strings.Trim(field, ".,;:!?()\"")
	if field == "" {
		return 0
	}
	if strings.HasPrefix(field, "/") {
		return 2
	}
	n, word := 0, false
	for i, r := range field {
		switch {
		case unicode.IsDigit(r):
			n, word = n+1, false
		case strings.ContainsRune(".-:/", r) && i > 0:
			if hasDigit(field) {
				n++
			}
			word = false
		case !word:
			n, word = n+1, true
		}
	}
	return n
}

func hasDigit(s string) bool { return strings.ContainsFunc(s, unicode.IsDigit) }
