package storage_test

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.etcd.io/bbolt"

	"loosebox/exam"
	"loosebox/storage"
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

func TestABrokenRoundShows(t *testing.T) {
	key := func(seq byte) []byte { return append([]byte("2026-03-01"), 0, 0, 0, seq) }
	for says, tamper := range map[string]func(*bbolt.Bucket) error{
		"a row of rounds does not match its sum": func(b *bbolt.Bucket) error {
			return b.Put(key(2), bytes.Replace(bytes.Clone(b.Get(key(2))), []byte("Ann"), []byte("Bob"), 1))
		},
		"line 1 of the round of 2026-03-01 is missing": func(b *bbolt.Bucket) error { return b.Delete(key(1)) },
		"a line of a round has a wrong key":            func(b *bbolt.Bucket) error { return b.Put([]byte("2026"), []byte("x")) },
	} {
		r, err := storage.Open(t.TempDir(), storage.Options{})
		require.NoError(t, err)
		h := saveHorse(t, r, "Bracken")
		require.NoError(t, r.AddToRound(roundLine(h.ID, "2026-03-01", "a"), roundLine(h.ID, "2026-03-01", "b"), roundLine(h.ID, "2026-03-01", "c")))
		require.NoError(t, r.Tamper(func(tx *bbolt.Tx) error { return tamper(tx.Bucket([]byte("rounds"))) }))
		_, err = r.RoundLines("2026-01-01", "2026-12-31")
		if says != "a line of a round has a wrong key" { // that key lies before every day
			require.ErrorIs(t, err, exam.ErrDamaged, says)
			require.ErrorContains(t, err, says)
			require.ErrorIs(t, r.AddToRound(roundLine(h.ID, "2026-03-01", "d")), exam.ErrDamaged, "nothing is added to what is broken")
		}
		report, err := r.Check(context.Background())
		require.NoError(t, err)
		require.False(t, report.OK)
		assert.Contains(t, report.Broken[0].What, says)
		require.NoError(t, r.Close())
	}
}
