package ownfile

import (
	"strings"

	"loosebox/exam/notation"
)

// Nearest returns the index in known of the word that was probably meant by typed: the one with the
// fewest changes, if they are few, or the one that typed is the beginning of; -1 where none is
// near.
func Nearest(typed string, known []string) int {
	typed = strings.ToLower(notation.CleanLine(typed, 60))
	best, found := max(2, len(typed)/3)+1, -1
	for i, word := range known {
		word = strings.ToLower(word)
		d := Changes([]rune(typed), []rune(word))
		if len(typed) > 2 && strings.HasPrefix(word, typed) {
			d = 1
		}
		if d < best {
			best, found = d, i
		}
	}
	return found
}

// Changes counts what to insert, drop or replace to turn a into b, each at a cost of
// one (Levenshtein 1966).
func Changes[T comparable](a, b []T) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range b {
			cost := diagonal
			if x != y {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j+1]+1, row[j]+1)
		}
	}
	return row[len(b)]
}
