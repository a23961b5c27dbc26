package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// At every step of an exam, and in what opens over it, a reader leaves everything
// as it was: cursor, typed text, answers.
func TestAScanLeavesEveryStepAsItWas(t *testing.T) {
	d, store, id := begin(t, "Thistle", "full-exam", wide())
	seen := map[string]bool{}
	check := func(where string) {
		before, codes := d.View(), []string{"001000000000777", "LA 001000000000777"}
		if !d.Screen().Typing() { // there another code is text
			codes = append(codes, "98514100012345", "4006381333931x1")
		}
		for _, code := range codes {
			d.Scan(code)
		}
		d.Press("f5") // a key of nothing, with which the sentence goes
		require.Equal(t, before, d.View(), where)
	}
	for i := range 80 {
		title := d.Row("│ ")
		if seen[title] && i > 60 {
			break
		}
		seen[title] = true
		check("untouched " + title)
		d.Press("1")
		check("after 1 " + title)
		d.Press("tab")
	}
	assert.Greater(t, len(seen), 30)
	for _, over := range []string{"x", "o", "s", "h"} {
		d.Press(over)
		check("over the field: " + over)
		d.Press("esc")
	}
	v, err := store.Visit(id)
	require.NoError(t, err)
	assert.Equal(t, 1, v.Entries, "the opening alone")
}
