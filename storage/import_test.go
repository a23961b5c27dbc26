package storage_test

import (
	"context"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

func TestAnImportIsAllOrNothing(t *testing.T) {
	r, _ := newRecord(t)
	known := saveHorse(t, r, "Bracken")
	visit := func(n int, at time.Time) []exam.Entry {
		return append([]exam.Entry{opened("", at)}, append(answers("", n, at), closing("", at))...)
	}
	spoilt := visit(5, day())
	spoilt[3].Kind = "gossip"
	batch := []storage.Imported{
		{Horse: known, Entries: [][]exam.Entry{visit(4, day()), visit(6, day().AddDate(0, 0, -3))}},
		{Horse: exam.Horse{Name: "Moth", Kind: exam.AnimalDonkey}, Entries: [][]exam.Entry{visit(2, day()), spoilt}},
	}
	err := r.Import(context.Background(), batch)
	require.ErrorContains(t, err, "horse 2 (Moth): visit 2")
	found, err := r.Horses()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Zero(t, found[0].Visits, "the half of an import is no import")

	batch[1].Entries[1] = visit(3, day())[:4] // left open
	require.NoError(t, r.Import(context.Background(), batch))
	found, err = r.Horses()
	require.NoError(t, err)
	require.Len(t, found, 2)
	assert.Equal(t, known, found[0].Horse, "a known horse is left as it is")
	past, err := r.Past(known.ID, 0)
	require.NoError(t, err)
	require.Len(t, past, 2)
	assert.True(t, past[0].OpenedAt.After(past[1].OpenedAt))
	assert.Len(t, past[0].Findings, 4)
	assert.Equal(t, known, past[0].Horse)
	assert.NotEmpty(t, found[1].Open)
	assert.Equal(t, 1, found[1].Horse.Revision)

	elsewhere := opened(found[1].Horse.ID, day())
	err = r.Import(context.Background(), []storage.Imported{{Horse: known, Entries: [][]exam.Entry{{elsewhere}}}})
	require.ErrorContains(t, err, "another horse")
	told := opened("", day())
	told.Opening.Horse = exam.Horse{Name: "Bracken as a foal", Kind: exam.AnimalHorse}
	require.NoError(t, r.Import(context.Background(), []storage.Imported{{Horse: known, Entries: [][]exam.Entry{{told}}}}))
	recent, err := r.Recent(0)
	require.NoError(t, err)
	names := map[string]bool{}
	for _, v := range recent {
		names[v.Horse.Name] = true
	}
	assert.True(t, names["Bracken as a foal"], "what is said of the horse on the day is kept")
}

func TestIdentitiesAreUUIDsOfVersion7(t *testing.T) {
	r, _ := newRecord(t)
	h := saveHorse(t, r, "Bracken")
	v := begin(t, r, h.ID, day())
	for _, text := range []string{string(h.ID), string(v.ID)} {
		id, err := uuid.Parse(text)
		require.NoError(t, err)
		assert.Equal(t, uuid.Version(7), id.Version(), "RFC 9562, section 5.7")
	}
}
