package storage_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// Each place has its own last exchange and what waits for it; of many places the newest are remembered.
func TestEachPlaceHasItsLastExchange(t *testing.T) {
	r, _ := newRecord(t)
	save := func(name string) {
		_, err := r.SaveHorse(exam.Horse{Name: name, Kind: exam.AnimalHorse, Revision: 1}, "Ann", day())
		require.NoError(t, err)
	}
	waiting := func(places ...string) (out []int) {
		list, err := r.Exchanges(places...)
		require.NoError(t, err)
		for _, x := range list {
			out = append(out, x.Waiting)
		}
		return out
	}
	note := func(place string, left int, at time.Time) {
		require.NoError(t, r.NoteExchange(storage.Exchanged{At: at, Place: place, Waiting: left}))
	}
	assert.Empty(t, waiting())
	save("Bracken")
	assert.Equal(t, []int{1, 1}, waiting("stick", "hub"), "neither was reached")
	note("stick", 0, day())
	assert.Equal(t, []int{0, 1}, waiting("stick", "hub"))
	save("Pip")
	note("hub", 1, day().Add(time.Hour))
	assert.Equal(t, []int{1, 1}, waiting("stick", "hub"), "the hub could not take one, the stick has not seen one")
	assert.Equal(t, []int{1}, waiting(), "the last")
	note("stick", 0, day().Add(2*time.Hour))
	assert.Equal(t, []int{0, 1}, waiting("stick", "hub"))
	for i := range 20 {
		note(fmt.Sprint("drive ", i), 0, day().Add(3*time.Hour))
	}
	assert.Equal(t, []int{0, 2}, waiting("drive 13", "stick"), "long ago: it is written anew, and says so")
}
