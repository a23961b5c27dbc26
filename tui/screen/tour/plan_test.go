package tour_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/rehearse"
	"loosebox/exam/steps"
	"loosebox/ranges"
	"loosebox/tui/screen/tour"
	"loosebox/tui/screentest"
)

// The horse of the tour asks nothing at its places, and its routine and the one of the end are there.
func TestTheHorseOfTheTourIsQuiet(t *testing.T) {
	table, held := steps.Table(), must(ranges.BuiltIn())(t)
	c, ok := rehearse.CaseNamed(must(rehearse.Cases(table, held))(t), tour.ShortCase)
	require.True(t, ok)
	h, err := rehearse.New(c, tour.ShortSeed, screentest.Now(), table, held)
	require.NoError(t, err)
	asks := tour.Routine().For(h.Class, table).Asks
	require.Len(t, asks, len(tour.Routine().Asks))
	for _, ask := range asks {
		for _, k := range ask.Keys() {
			_, comes := h.MomentAt(k, exam.Visit{})
			assert.False(t, comes, k.Step)
		}
	}
	assert.Less(t, h.Beats(0, 60)[1], 3.0, "there is something to tap")
	_, ok = steps.Find(steps.Routines(), tour.Short)
	assert.True(t, ok)
	_, ok = steps.Find(steps.Routines(), tour.Routine().Name)
	assert.False(t, ok, "nobody can pick the routine of the tour")
	assert.Equal(t, tour.Short, tour.ShortTitle(nil))
}

func must[T any](v T, err error) func(*testing.T) T {
	return func(t *testing.T) T {
		t.Helper()
		require.NoError(t, err)
		return v
	}
}

// What is on paper is kept as a store keeps it, and only there.
func TestPaperKeepsOneVisit(t *testing.T) {
	deps, store := screentest.Deps(t)
	own, err := tour.Begin(deps)
	require.NoError(t, err)
	p := own.Store
	before, err := p.Visit(tour.PaperVisit)
	require.NoError(t, err)
	back, err := p.Append(exam.Entry{Visit: tour.PaperVisit, Kind: exam.EntryNote, At: deps.Now(), By: "Ann\x1b[2J", Note: "x\x07y"})
	require.NoError(t, err)
	assert.Equal(t, []string{"Ann", "xy"}, []string{back.By, back.Note})
	after, err := p.Visit(tour.PaperVisit)
	require.NoError(t, err)
	assert.Equal(t, before.Entries+1, after.Entries)
	entries, err := p.Entries(tour.PaperVisit)
	require.NoError(t, err)
	folded, err := exam.Fold(entries)
	require.NoError(t, err)
	assert.Equal(t, after, folded)

	for _, wrong := range []exam.VisitID{"", "01a2138d-88cf-7879-9915-f7b6aec4899c"} {
		_, err = p.Append(exam.Entry{Visit: wrong, Kind: exam.EntryNote, At: deps.Now(), By: "Ann"})
		require.ErrorIs(t, err, exam.ErrNotFound)
		_, err = p.Visit(wrong)
		require.ErrorIs(t, err, exam.ErrNotFound)
		_, err = p.Entries(wrong)
		require.ErrorIs(t, err, exam.ErrNotFound)
	}
	_, err = p.Append(exam.Entry{Visit: tour.PaperVisit, Kind: exam.EntryDraw, At: deps.Now(), By: "Ann", Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady}})
	require.ErrorIs(t, err, exam.ErrRefused)
	_, err = p.Append(exam.Entry{Visit: tour.PaperVisit, Kind: exam.EntryClosed, At: deps.Now(), By: "Ann"})
	require.NoError(t, err)
	_, err = p.Append(exam.Entry{Visit: tour.PaperVisit, Kind: exam.EntryNote, At: deps.Now(), By: "Ann"})
	require.ErrorIs(t, err, exam.ErrClosed)
	past, err := p.Past(tour.PaperHorse, 0)
	require.NoError(t, err)
	assert.Empty(t, past)
	assert.Zero(t, store.Writes())
	assert.Zero(t, deps.Rehearsals.(*examtest.Store).Writes())
}
