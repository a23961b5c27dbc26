package list

import (
	"slices"
	"strings"

	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

// maxFind is the longest search, in characters.
const maxFind = 40

// Find is the text of a search in a list.
type Find struct{ Text string }

// Press handles letters, pasted text and backspace; true where it used the press, so that the list must be filtered again.
func (f *Find) Press(p keys.Press) bool {
	if keys.TakeBack().Is(p) {
		if r := []rune(f.Text); len(r) > 0 {
			f.Text = string(r[:len(r)-1])
		}
		return true
	}
	text, ok := keys.Text(p)
	return ok && f.Add(text)
}

// Add adds a text; false, and nothing added, where the search would be longer than 40 characters.
func (f *Find) Add(text string) bool {
	if text != " " {
		text = notation.CleanLine(text, maxFind)
	}
	if len([]rune(f.Text))+len([]rune(text)) > maxFind {
		return false
	}
	f.Text += text
	return true
}

// Words are the words of the search in lower case.
func (f *Find) Words() []string { return strings.Fields(strings.ToLower(f.Text)) }

// Light reports whether a press types into the search.
func (f *Find) Light(p keys.Press) bool {
	_, ok := keys.Text(p)
	return ok && !p.Paste
}

// HoldsAll reports whether every word occurs in a text, both in lower case.
func HoldsAll(text string, words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
}
