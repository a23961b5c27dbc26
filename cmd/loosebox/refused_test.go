package main

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/authorization"
	"loosebox/storage"
)

// A procedure that nobody decided ends a command with code 6, whichever way it
// comes: asked before, or refused by the record itself.
func TestNothingDecidedIsCodeSix(t *testing.T) {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	asked := authorization.CheckProcedure(exam.Visit{}, nil, exam.Procedure{Kind: exam.Injecting, Product: "X", At: at})
	assert.Equal(t, exitRefused, codeOf(fmt.Errorf("inject: %w", asked)))

	r, err := storage.Open(t.TempDir(), storage.Options{})
	require.NoError(t, err)
	defer func() { require.NoError(t, r.Close()) }()
	h, err := r.SaveHorse(exam.Horse{Revision: 1, Name: "Bracken", Kind: exam.AnimalHorse}, "Ann", at)
	require.NoError(t, err)
	v, err := r.Begin(exam.Entry{Kind: exam.EntryOpened, At: at, By: "Ann", Opening: &exam.Opening{Horse: h, Routine: "tpr"}})
	require.NoError(t, err)
	_, err = r.Append(exam.Entry{
		Visit: v.ID, Kind: exam.EntryInjection, At: at, By: "Ann",
		Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle"}},
	})
	assert.Equal(t, exitRefused, codeOf(err))
}
