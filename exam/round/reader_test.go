package round_test

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/round"
)

// reads counts which horses' visits are read.
type reads struct {
	*examtest.Store
	mu     sync.Mutex
	horses []exam.HorseID
}

func (r *reads) Outline(h exam.HorseID, since time.Time) ([]exam.Visit, error) {
	r.mu.Lock()
	defer r.mu.Unlock()
	if !slices.Contains(r.horses, h) {
		r.horses = append(r.horses, h)
	}
	return r.Store.Outline(h, since)
}

// What is kept is read again for the horses of which something changed, and says the same
// as a reading from the beginning.
func TestOnlyWhatChangedIsReadAgain(t *testing.T) {
	s := &reads{Store: examtest.NewStore()}
	at := time.Date(2026, 3, 4, 9, 0, 0, 0, time.UTC)
	var horses []exam.HorseID
	for i := range 20 {
		h, err := s.SaveHorse(exam.Horse{Name: fmt.Sprint("Bracken ", i), Kind: exam.AnimalHorse, Revision: 1}, "Ann", at)
		require.NoError(t, err)
		horses = append(horses, h.ID)
	}
	begin := func(h exam.HorseID) exam.VisitID {
		t.Helper()
		v, err := s.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: "Ann", Opening: &exam.Opening{Horse: exam.Horse{ID: h}, Routine: "TPR recheck"}})
		require.NoError(t, err)
		return v.ID
	}
	add := func(e exam.Entry) {
		t.Helper()
		e.At, e.By = at, "Ann"
		_, err := s.Append(e)
		require.NoError(t, err)
	}
	old := begin(horses[7])
	add(exam.Entry{Visit: old, Kind: exam.EntryNote, Note: "quiet"})
	add(exam.Entry{Visit: old, Kind: exam.EntryClosed})

	var kept round.Reader
	j, table := judging(t), schedule(t)
	read := func() []exam.HorseID {
		t.Helper()
		s.horses = nil
		got, err := kept.Read(context.Background(), s, "2026-03-04", at, table, j)
		require.NoError(t, err)
		list := s.horses
		want, err := round.Read(t.Context(), s, "2026-03-04", at, table, j)
		require.NoError(t, err)
		require.Equal(t, want, got)
		return list
	}
	assert.Len(t, read(), 20)
	assert.Empty(t, read(), "nothing changed")

	require.NoError(t, s.AddToRound(exam.RoundLine{Day: "2026-03-04", At: at, By: "Ann", Horse: horses[3], Act: exam.RoundPicked}))
	assert.Equal(t, []exam.HorseID{horses[3]}, read())

	open := begin(horses[5])
	assert.Equal(t, []exam.HorseID{horses[5]}, read())
	assert.Equal(t, []exam.HorseID{horses[5]}, read(), "an open visit changes with each answer")
	add(exam.Entry{Visit: open, Kind: exam.EntryClosed})
	assert.Equal(t, []exam.HorseID{horses[5]}, read())
	assert.Empty(t, read())

	add(exam.Entry{Visit: old, Kind: exam.EntryNote, Note: "restless", Corrects: 2, Amend: &exam.Amendment{Why: "forgotten"}})
	assert.Equal(t, []exam.HorseID{horses[7]}, read(), "a correction of a closed visit")
	h, err := s.Horse(horses[1])
	require.NoError(t, err)
	h.Revision, h.Place = 2, "box 9"
	_, err = s.SaveHorse(h, "Ann", at)
	require.NoError(t, err)
	assert.Equal(t, []exam.HorseID{horses[1]}, read())

	at = at.Add(3 * time.Minute)
	assert.Len(t, read(), 20, "what is due goes by the clock too")

	gone, leave := context.WithCancel(context.Background())
	leave()
	_, err = kept.Read(gone, s, "2026-03-05", at, table, j)
	require.ErrorIs(t, err, context.Canceled)
	assert.Empty(t, read(), "what was kept stands")
}
