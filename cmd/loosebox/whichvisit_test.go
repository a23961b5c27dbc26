package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
)

// A horse that was never examined has no last visit.
func TestAHorseWithoutAVisit(t *testing.T) {
	store := examtest.NewStore()
	_, err := store.SaveHorse(exam.Horse{Revision: 1, Name: "Moth", Kind: exam.AnimalPony}, "Ann", importDay())
	require.NoError(t, err)
	_, err = whichVisit(store, "Moth@last", importDay())
	require.EqualError(t, err, "Moth has no visit yet")
	require.ErrorIs(t, err, exam.ErrNotFound)
}
