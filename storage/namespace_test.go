package storage_test

import (
	"context"
	"crypto/ed25519"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/signedlog"
)

// Whatever the mark of a segment is changed to: it does not verify. The name of a log of
// rehearsals says that it is one, and every record and signature names its log.
func TestTheMarkOfARehearsalCannotBeChanged(t *testing.T) {
	from, _ := newRecord(t)
	saveHorse(t, from.Rehearsals(), "Simulated")
	whole := segmentsOf(t, from)
	require.Len(t, whole, 1)
	require.True(t, whole[0].Proven())
	cleared := whole[0]
	cleared.Rehearsals = false
	_, err := cleared.Verify()
	require.ErrorIs(t, err, signedlog.ErrMark)

	to, _ := newRecord(t)
	done, err := to.Adopt(context.Background(), feed([]signedlog.Segment{cleared}))
	require.NoError(t, err)
	require.Len(t, done.Aside, 1)
	horses, err := to.Horses()
	require.NoError(t, err)
	assert.Empty(t, horses, "a simulated horse is never among real ones")
	done, err = to.Adopt(context.Background(), feed(whole))
	require.NoError(t, err)
	assert.Empty(t, done.Aside)
}

// Real horses whose segment is marked as rehearsals are kept aside, and come in by a sound copy.
func TestHorsesAloneAreNotTakenForSimulatedOnes(t *testing.T) {
	from, _ := newRecord(t)
	saveHorse(t, from, "Bracken")
	whole := segmentsOf(t, from)
	marked := slices.Clone(whole)
	marked[0].Rehearsals = true

	to, _ := newRecord(t)
	done, err := to.Adopt(context.Background(), feed(marked))
	require.NoError(t, err)
	require.Len(t, done.Aside, 1)
	assert.Contains(t, done.Aside[0], "nothing in them says that they are rehearsals")
	list, err := to.Rehearsals().Horses()
	require.NoError(t, err)
	assert.Empty(t, list)
	done, err = to.Adopt(context.Background(), feed(whole))
	require.NoError(t, err)
	assert.Equal(t, 1, done.Horses)
	list, err = to.Rehearsals().Horses()
	require.NoError(t, err)
	assert.Empty(t, list)
}

// A log of rehearsals from before schema 11 is named like one of visits: what is opened in it
// says what it is, wherever that stands.
func TestOldLogsOfRehearsalsAreRead(t *testing.T) {
	_, key, err := ed25519.GenerateKey(nil)
	require.NoError(t, err)
	horse := exam.Horse{ID: "01a2135c-3ebf-762a-99f8-c40a7684cd51", Revision: 1, Name: "Simulated", Kind: exam.AnimalHorse}
	opening := opened(horse.ID, day())
	opening.Visit, opening.Opening.Horse = "01a2135c-3ebf-762a-99f8-c40a7684cd50", horse
	opening.Opening.Source = exam.SimulatedSource("colic-quiet-gut", 7, "0123456789ab")
	var parts []signedlog.Segment
	b := signedlog.NewBuilder(key, signedlog.Nonce{7}, func(s signedlog.Segment) error {
		s.Rehearsals = true
		back, _, err := signedlog.ReadSegment(s.Bytes())
		parts = append(parts, back)
		return err
	})
	part := func(kind exam.LineKind, what any) {
		body, err := exam.LineBody(kind, what)
		require.NoError(t, err)
		_, err = b.Add(body)
		require.NoError(t, err)
		require.NoError(t, b.Close())
	}
	part(exam.LineHorse, exam.HorseLine{Horse: horse, By: "Ann", At: day()})
	part(exam.LineEntry, opening)
	require.Len(t, parts, 2)

	to, _ := newRecord(t)
	for i, s := range parts { // one in a transaction: the first has a horse alone
		done, err := to.Adopt(context.Background(), feed([]signedlog.Segment{s}))
		require.NoError(t, err)
		assert.Len(t, done.Aside, 1-i, "part %d", i) // with the second both fit
	}
	list, err := to.Rehearsals().Recent(0)
	require.NoError(t, err)
	require.Len(t, list, 1)
	assert.Equal(t, "Simulated", list[0].Horse.Name)
	left, _, err := to.Aside()
	require.NoError(t, err)
	assert.Zero(t, left)
}
