// Package words keeps what a person reads apart from the keys that are stored, compared and written to files. Each
// package has one file words.go with the English of its keys; another language is a set of such tables and no other code.
//
// A key is a string type: string(k) is the key, k.String() the words, so that what is formatted for a person with %s or
// %v reads as words, and what is encoded as JSON, CSV or CBOR stays a key.
package words

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
)

// Table holds the English words of the keys of one type.
type Table[K ~string] struct {
	sort    string
	english map[K]string
}

// Phrase is one text of a table: the name of the table, the key, and what a person reads.
type Phrase struct{ Sort, Key, Text string }

// Language is a translation: texts by the name of their table and their key. What it lacks is read in English.
type Language map[string]map[string]string

// current is the language in use; nil for English.
var current atomic.Pointer[Language]

// listed are functions that return the entries of one table each; packages add theirs when they are initialised.
var listed []func() []Phrase

// New makes a table and lists it for translation. Sort is its name, which no other table may have.
func New[K ~string](sort string, english map[K]string) Table[K] {
	t := Table[K]{sort, english}
	List(func() []Phrase {
		lines := make([]Phrase, 0, len(english))
		for key, text := range english {
			lines = append(lines, Phrase{sort, string(key), text})
		}
		return lines
	})
	return t
}

// Of is the text of the key in the language in use, else in English. A key that is not in the table is returned as it
// is: in place of some keys a person may type words of their own.
func (t Table[K]) Of(key K) string {
	if text, ok := Translated(t.sort, string(key)); ok {
		return text
	}
	if text, ok := t.english[key]; ok {
		return text
	}
	return string(key)
}

// Read is the key whose words are the text, ignoring case and a full stop at the end. Any other text is returned as it
// is: a person's own words.
func (t Table[K]) Read(text string) K {
	for key := range t.english {
		if strings.EqualFold(strings.TrimRight(text, ". "), t.Of(key)) {
			return key
		}
	}
	return K(text)
}

// English is the English text of the key, whatever language is in use: files for other programs hold these words.
func (t Table[K]) English(key K) string {
	if text, ok := t.english[key]; ok {
		return text
	}
	return string(key)
}

// Join is the words of keys with commas between them.
func Join[K fmt.Stringer](keys []K) string {
	said := make([]string, len(keys))
	for i, k := range keys {
		said[i] = k.String()
	}
	return strings.Join(said, ", ")
}

// List adds texts that are in no Table to those that a language may translate; called when a package is initialised.
func List(lines func() []Phrase) { listed = append(listed, lines) }

// Translated is the text of a key in the language in use; false where that is English or has no text for the key.
func Translated(sort, key string) (string, bool) {
	l := current.Load()
	if l == nil {
		return "", false
	}
	text, ok := (*l)[sort][key]
	return text, ok
}

// InEnglish reports whether English is in use.
func InEnglish() bool { return current.Load() == nil }

// Use sets the language of the whole program, before anything is shown; nil is English.
func Use(l Language) {
	if l == nil {
		current.Store(nil)
		return
	}
	current.Store(&l)
}

// English lists every English text with its key, sorted by table and key, for a translator.
func English() []Phrase {
	var out []Phrase
	for _, lines := range listed {
		out = append(out, lines()...)
	}
	slices.SortFunc(out, func(a, b Phrase) int { return cmp.Or(cmp.Compare(a.Sort, b.Sort), cmp.Compare(a.Key, b.Key)) })
	return out
}
