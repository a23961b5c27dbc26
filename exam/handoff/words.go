package handoff

import (
	"regexp"
	"strings"
	"unicode"
)

// PerMinute is how many words are read aloud in a minute at an even pace; from
// memory. MostWords keeps the page well under one minute.
const (
	PerMinute = 150
	MostWords = 145
)

// clock is a time of day.
var clock = regexp.MustCompile(`^\d\d:\d\d$`)

// SpokenWords is how many words a text takes when it is read aloud. A number takes
// a word a digit, its point and its dash one each, a time its hour and its minutes,
// a unit a minute two.
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
	if clock.MatchString(field) { // "07:00" seven o'clock, "19:22" nineteen twenty-two
		if field[3:] == "00" {
			return 2
		}
		return 4
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
