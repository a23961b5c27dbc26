package round_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/round"
)

func TestARoundIsReadAndReadAgainAfterAChange(t *testing.T) {
	store := examtest.NewStore()
	var ids []exam.HorseID
	for _, name := range []string{"Ash", "Moth", "Thistle"} {
		h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: name, Kind: exam.AnimalHorse}, "Ann", at("2026-01-01 10:00"))
		require.NoError(t, err)
		ids = append(ids, h.ID)
	}
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: at("2026-02-27 10:00"), By: "Ann", Opening: &exam.Opening{Horse: exam.Horse{ID: ids[1], Name: "Moth"}, Routine: "full"}})
	require.NoError(t, err)
	now := at(today + " 09:00")
	read := func() round.Round {
		r, err := round.Read(t.Context(), store, today, now, schedule(t), judging(t))
		require.NoError(t, err)
		return r
	}
	before := read()
	assert.Equal(t, "Moth", names(before))

	l := line(today, exam.Horse{ID: ids[0]}, exam.RoundPicked, "owner rang")
	require.NoError(t, store.AddToRound(l))
	_, err = store.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryClosed, At: at(today + " 08:00"), By: "Ann"})
	require.NoError(t, err)
	after, err := round.Again(store, before, now, schedule(t), judging(t), ids[0])
	require.NoError(t, err)
	assert.Equal(t, "Ash Moth", names(after))
	assert.Equal(t, round.Begun, after.Calls[1].State, "only the horse that was named is read again")
	after, err = round.Again(store, after, now, schedule(t), judging(t), ids[1])
	require.NoError(t, err)
	assert.Equal(t, read(), after)

	l.Act = exam.RoundLeftOut
	require.NoError(t, store.AddToRound(l))
	after, err = round.Again(store, after, now, schedule(t), judging(t), ids[0])
	require.NoError(t, err)
	assert.Equal(t, "Moth", names(after), "off the round again")

	_, err = round.Again(store, after, now, schedule(t), judging(t), "nobody")
	require.ErrorIs(t, err, exam.ErrNotFound)
	store.FailWith(errors.New("torn"))
	_, err = round.Read(t.Context(), store, today, now, schedule(t), judging(t))
	require.ErrorContains(t, err, "nothing was changed: torn")
}
