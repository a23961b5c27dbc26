package storage_test

import (
	"context"
	"crypto/ed25519"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// Whoever has a key can sign any clock. One that stands still, or that leaves no room for
// what comes after it, is set aside, and this machine writes on.
func TestAClockThatCannotBe(t *testing.T) {
	key := ed25519.NewKeyFromSeed(make([]byte, ed25519.SeedSize))
	body, err := exam.LineBody(exam.LineRound, exam.RoundLine{
		Day: "2026-03-02", At: day(), By: "Eva", Horse: "0198f2a0-0000-7000-8000-000000000001", Act: exam.RoundPicked,
	})
	require.NoError(t, err)
	signed := func(counters ...uint64) signedlog.Segment {
		public, _ := key.Public().(ed25519.PublicKey)
		s := signedlog.Segment{Log: signedlog.NameOf(public, signedlog.Nonce{1}), Public: public, Nonce: signedlog.Nonce{1}, First: 1}
		var last signedlog.Digest
		for i, c := range counters {
			core := signedlog.Record{Counter: c, Body: body}.Core()
			last = s.Log.Next(uint64(i+1), last, core)
			s.Cores = append(s.Cores, core)
		}
		s.Signature = signedlog.Sign(key, s.Log, s.Last(), last)
		return s
	}
	for name, counters := range map[string][]uint64{
		"none": {0}, "it stands still": {5, 5}, "it goes back": {5, 4}, "the last that there is": {math.MaxUint64}, "beyond any": {1<<63 + 1},
	} {
		r, _ := newRecord(t)
		done, err := r.Adopt(context.Background(), feed([]signedlog.Segment{signed(counters...)}))
		require.NoError(t, err, name)
		require.Len(t, done.Aside, 1, name)
		assert.Contains(t, done.Aside[0], "their clock", name)
		saveHorse(t, r, "Bracken")
	}
	r, _ := newRecord(t)
	done, err := r.Adopt(context.Background(), feed([]signedlog.Segment{signed(1, 2, 1<<63)}))
	require.NoError(t, err)
	assert.Empty(t, done.Aside)
	begin(t, r, saveHorse(t, r, "Bracken").ID, day())
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
}
