package plain_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/plain"
	"loosebox/tui/screentest"
)

// A window of a count during which the laptop slept, or its clock was set, is thrown away, and the step is asked again.
func TestACountIsThrownAwayWhenTheClocksPart(t *testing.T) {
	for _, set := range []time.Duration{time.Hour, -time.Hour} {
		deps, store := screentest.Deps(t)
		horses := screentest.Yard(t, store)
		v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann Bell", Opening: &exam.Opening{Horse: horses["Thistle"], Routine: "tpr-recheck"}})
		require.NoError(t, err)
		c := examtest.NewClock(screentest.Now())
		deps.Now, deps.Waits.Between = c.Now, c.Between
		var b strings.Builder
		s := &plain.Session{Deps: deps, In: strings.NewReader("to heart rate\ncount 15\ncount 30\n20\nquit\n"), Out: &b, Person: "Ann Bell", Wait: func(d time.Duration) {
			if c.Pass(d); d == 15*time.Second {
				c.Set(set)
			}
		}}
		require.ErrorIs(t, s.Exam(v.ID), plain.ErrLeft, b.String())
		assert.Equal(t, 1, strings.Count(b.String(), "\aStop. How many were counted?"), b.String())
		assert.Contains(t, b.String(), "\aThis count is discarded: its two clocks differ by 3600.0 s")
		v, err = store.Visit(v.ID)
		require.NoError(t, err)
		f, ok := v.Finding(exam.Key{Step: "heart.rate"})
		require.True(t, ok, b.String())
		assert.Equal(t, exam.Count{Method: exam.CountByEar, WindowS: 30, Counted: 20}, *f.Value.Count)
	}
}
