package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

func roundLine(h exam.HorseID, on, words string) exam.RoundLine {
	return exam.RoundLine{Day: on, At: day(), By: "Ann", Horse: h, Act: exam.RoundPicked, Words: words}
}

func TestARoundIsThereAfterARestart(t *testing.T) {
	r, dir := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	require.NoError(t, r.AddToRound(roundLine(h.ID, "2026-03-01", "a"), roundLine(h.ID, "2026-03-01", "b")))
	before, err := r.RoundLines("2026-03-01", "2026-03-01")
	require.NoError(t, err)
	require.NoError(t, r.Close())
	after, err := openRecord(t, dir).RoundLines("2026-03-01", "2026-03-01")
	require.NoError(t, err)
	require.Len(t, after, 2)
	assert.Equal(t, before, after)
}

func TestARecordFromBeforeTheRoundsTakesThem(t *testing.T) {
	r := openRecord(t, oldFile(t, "schema1.db.gz"))
	list, err := r.Horses()
	require.NoError(t, err)
	lines, err := r.RoundLines("0000-01-01", "9999-12-31")
	require.NoError(t, err)
	assert.Empty(t, lines)
	require.NoError(t, r.AddToRound(roundLine(list[0].Horse.ID, "2026-03-01", "a")))
}
