package inorder_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/inorder"
)

// What was put in first is taken first, however long it takes.
func TestResultsComeInTheOrderOfThePieces(t *testing.T) {
	var got []int
	l := inorder.OnAll(func(n int) (int, error) {
		time.Sleep(time.Duration(n%5) * time.Millisecond)
		return n * n, nil
	}, func(n int) error { got = append(got, n); return nil })
	var want []int
	for n := range 200 {
		want = append(want, n*n)
		require.NoError(t, l.Put(n))
	}
	require.NoError(t, l.End(nil))
	assert.Equal(t, want, got)
}

// An error of the work, of what takes, or from outside ends it: nothing after it is taken.
func TestAnErrorEndsTheLine(t *testing.T) {
	for _, in := range []string{"work", "take", "outside"} {
		taken := 0
		l := inorder.OnAll(func(n int) (int, error) {
			if in == "work" && n == 7 {
				return 0, assert.AnError
			}
			return n, nil
		}, func(n int) error {
			if in == "take" && n == 7 {
				return assert.AnError
			}
			taken++
			return nil
		})
		var err error
		for n := 0; n < 100 && err == nil; n++ {
			if err = l.Put(n); in == "outside" && n == 7 {
				err = assert.AnError
			}
		}
		require.ErrorIs(t, l.End(err), assert.AnError, in)
		assert.LessOrEqual(t, taken, 7, in)
	}
}
