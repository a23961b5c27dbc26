//go:build unix

package main

import (
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// A colleague has Wren open on another laptop. loosebox exam says so; --own begins an exam of
// one's own beside it, which is gone on with from then on. Both stand and are to be settled.
func TestAnOwnExamOfAHorseThatAColleagueHasOpen(t *testing.T) {
	t.Parallel()
	ann, bea, stick := yard(t), t.TempDir(), t.TempDir()
	for _, data := range []string{ann, bea} {
		_, errOut, code := command(t, data, "share", "now", "--folder", stick)
		require.Zero(t, code, errOut)
	}
	open := func() (n int) {
		inRecord(t, bea, func(r *storage.Record) {
			h, err := findHorse(r, "Wren")
			require.NoError(t, err)
			past, err := r.Past(h.ID, 0)
			require.NoError(t, err)
			for _, v := range past {
				if !v.Closed() {
					n++
				}
			}
		})
		return n
	}
	require.Equal(t, 1, open())
	_, errOut, code := command(t, bea, "exam", "Wren", "--by", "Bea Cole", "--plain")
	require.Zero(t, code, errOut)
	assert.Regexp(t, `has this horse open on laptop [0-9a-f]{4} since `, errOut)
	assert.Contains(t, errOut, "Your answers go into that exam. --own begins an exam of your own; both stay.")
	assert.Equal(t, 1, open())
	_, errOut, code = command(t, bea, "exam", "Wren", "--by", "Bea Cole", "--plain", "--own")
	require.Zero(t, code, errOut)
	assert.Regexp(t, `has this horse open on laptop [0-9a-f]{4} since `, errOut)
	assert.Equal(t, 2, open())
	_, errOut, code = command(t, bea, "exam", "Wren", "--by", "Bea Cole", "--plain", "--own")
	assert.Equal(t, 2, code, errOut)
	assert.Contains(t, errOut, "finish the visit of Wren that is open on this laptop first")
	_, errOut, code = command(t, bea, "exam", "Wren", "--by", "Bea Cole", "--plain")
	require.Zero(t, code, errOut)
	assert.NotContains(t, errOut, "has this horse open", "the own one is gone on with")
	assert.Equal(t, 2, open())
	out, _, _ := command(t, bea, "settle", "--json")
	assert.Contains(t, out, `"kind": "at once"`)
	out, _, _ = command(t, bea, "settle")
	assert.Contains(t, out, "2 exams of this horse are open: Bea Cole on this laptop, ")

	// Both are closed: somebody looks at both, once, and every laptop knows.
	for _, of := range []struct{ data, by string }{{ann, "Nell Harrow"}, {bea, "Bea Cole"}} {
		inRecord(t, of.data, func(r *storage.Record) {
			open, err := r.Unfinished()
			require.NoError(t, err)
			for _, v := range open {
				if v.Horse.Name == "Wren" && !v.Elsewhere {
					_, err := r.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: time.Now(), By: of.by})
					require.NoError(t, err)
				}
			}
		})
	}
	meet := func() {
		for _, data := range []string{ann, bea, ann} {
			_, errOut, code := command(t, data, "share", "now", "--folder", stick)
			require.Zero(t, code, errOut)
		}
	}
	meet()
	for _, data := range []string{ann, bea} {
		out, _, _ = command(t, data, "settle")
		assert.Contains(t, out, "2 exams of this horse were open at once: ")
	}
	number := regexp.MustCompile(`loosebox settle (\S+) --words`).FindStringSubmatch(out)
	require.Len(t, number, 2, out)
	out, errOut, code = command(t, bea, "settle", number[1], "--words", "one dose in all", "--by", "Bea Cole")
	require.Zero(t, code, errOut)
	assert.Contains(t, out, "Bea Cole looked at it")
	meet()
	for _, data := range []string{ann, bea} {
		out, _, _ = command(t, data, "settle")
		assert.NotContains(t, out, "at once")
		sound(t, data)
	}
}
