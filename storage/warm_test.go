package storage_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// Warm finds what the first write would find, and leaves the file as it is.
func TestWarmFindsABrokenLeafBeforeTheFirstWrite(t *testing.T) {
	r, dir := newRecord(t)
	fill2(t, r)
	require.NoError(t, r.Warm())
	require.NoError(t, r.Warm(), "once is enough, twice is no fault")
	require.NoError(t, r.Close())

	name := filepath.Join(dir, storage.FileName)
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	page := os.Getpagesize()
	broken := 0
	for at := 2 * page; at+page <= len(data); at += page {
		if data[at+8] == 0x02 { // a leaf: its number of keys
			data[at+11] ^= 0x40
			broken++
		}
	}
	require.Positive(t, broken)
	require.NoError(t, os.WriteFile(name, data, 0o600))
	again, err := storage.Open(dir, storage.Options{})
	if err != nil {
		require.ErrorIs(t, err, exam.ErrDamaged, "the first look found it already")
		return
	}
	require.ErrorIs(t, again.Warm(), exam.ErrDamaged)
	require.NoError(t, again.Close())
	after, err := os.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, data, after, "nothing was changed")
}

func TestWarmOfAReaderDoesNothing(t *testing.T) {
	r, dir := newRecord(t)
	fill2(t, r)
	require.NoError(t, r.Close())
	reader, err := storage.Open(dir, storage.Options{ReadOnly: true})
	require.NoError(t, err)
	require.NoError(t, reader.Warm())
	require.NoError(t, reader.Close())
}

// Answers that come while the pages are looked at wait and are stored.
func TestAWriteDuringWarmWaitsForIt(t *testing.T) {
	r, dir := newRecord(t)
	_, open := fill2(t, r)
	require.NoError(t, r.Close())
	again := openRecord(t, dir)
	done := make(chan error)
	go func() { done <- again.Warm() }()
	appendAll(t, again, answers(open, 3, day()))
	require.NoError(t, <-done)
}
