package list

import (
	"slices"
	"strings"

	"loosebox/exam/notation"
	"loosebox/tui/keys"
)

// maxFind is the longest search, in characters.
const maxFind = 40

// Find is what is looked for in a list; letters add to it.
type Find struct{ Text string }

// Press takes a key; true where it was the search's, and the list is to be
// filtered again.
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

// Add adds a text; false where there is no room for it.
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

// Words are those that are looked for, in lower case.
func (f *Find) Words() []string { return strings.Fields(strings.ToLower(f.Text)) }

// Light says that a press is a character of the search.
func (f *Find) Light(p keys.Press) bool {
	_, ok := keys.Text(p)
	return ok && !p.Paste
}

// HoldsAll says that every word occurs in a text in lower case.
func HoldsAll(text string, words []string) bool {
	return !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) })
}
