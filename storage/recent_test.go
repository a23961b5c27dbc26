package storage_test

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The newest visits are the newest of all horses, however few are asked for and in whatever order their horses lie.
func TestTheNewestVisitsAreThoseOfAllHorses(t *testing.T) {
	r, _ := newRecord(t)
	dice := rand.New(rand.NewPCG(7, 13)) //nolint:gosec // the same each time
	for i := range 40 {
		h := saveHorse(t, r, fmt.Sprintf("Horse %d", i))
		for range dice.IntN(5) {
			v := begin(t, r, h.ID, day().Add(time.Duration(dice.IntN(50))*time.Hour)) // some at the same moment
			_, err := r.Append(closing(v.ID, v.OpenedAt.Add(time.Minute)))
			require.NoError(t, err)
		}
	}
	all, err := r.Recent(0)
	require.NoError(t, err)
	require.Greater(t, len(all), 60)
	for _, limit := range []int{1, 2, 7, 30, len(all), len(all) + 1} {
		some, err := r.Recent(limit)
		require.NoError(t, err)
		assert.Equal(t, all[:min(limit, len(all))], some, "%d", limit)
	}
}
