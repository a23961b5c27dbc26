package storage_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/progress"
)

// listen gathers what work says of itself: for each part the last that was done and all.
func listen(t *testing.T) (context.Context, map[string][2]int) {
	said := map[string][2]int{}
	return progress.With(t.Context(), func(what string, done, all int) {
		assert.GreaterOrEqual(t, done, said[what][0], "%s go forward", what)
		said[what] = [2]int{done, all}
	}), said
}

// TestCheckAndRebuildSayHowFarTheyAre: every line and every visit is counted, up to all of them.
func TestCheckAndRebuildSayHowFarTheyAre(t *testing.T) {
	r := twoHorses(t)
	ctx, said := listen(t)
	report, err := r.Check(ctx)
	require.NoError(t, err)
	require.True(t, report.OK)
	assert.Equal(t, [2]int{report.Lines, report.Lines}, said["lines"])
	assert.Equal(t, [2]int{report.Visits, report.Visits}, said["visits"])
	ctx, said = listen(t)
	n, _, err := r.Rebuild(ctx)
	require.NoError(t, err)
	assert.Equal(t, [2]int{n, n}, said["visits"])
	assert.Equal(t, [2]int{report.Lines, report.Lines}, said["lines"])
}
