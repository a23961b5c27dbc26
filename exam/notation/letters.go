package notation

import (
	"unicode"
	"unicode/utf8"
)

// Capital returns the text with its first letter in upper case.
func Capital(text string) string { return firstLetter(text, unicode.ToUpper) }

// Uncapital returns the text with its first letter in lower case, to follow a colon.
func Uncapital(text string) string { return firstLetter(text, unicode.ToLower) }

func firstLetter(text string, change func(rune) rune) string {
	r, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(change(r)) + text[size:]
}
