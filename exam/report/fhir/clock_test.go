package fhir_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/demo"
	"loosebox/exam/report/fhir"
	"loosebox/exam/steps"
)

// FHIR R4, invariant per-1: a period's start is not after its end. A visit that closed before it opened, as the clock was
// set back, has no end then and is finished all the same.
func TestAnEncounterDoesNotEndBeforeItBegins(t *testing.T) {
	yard, err := demo.Yard(time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), steps.Table(), steps.Routines())
	require.NoError(t, err)
	visit := yard[0].Visits[0]
	visit[0].Opening.Horse = yard[0].Horse
	p := pageOf(t, visit)
	require.NotNil(t, p.Visit.ClosedAt)
	of := schema(t)
	end := func() any {
		b, err := fhir.Document(p, theJudge(t))
		require.NoError(t, err)
		assert.Empty(t, faults(t, of, b))
		encounter := find(t, read(t, b), "Encounter", func(map[string]any) bool { return true })
		assert.Equal(t, "finished", encounter["status"])
		return encounter["period"].(map[string]any)["end"]
	}
	assert.NotNil(t, end())
	earlier := p.Visit.OpenedAt.Add(-time.Hour)
	p.Visit.ClosedAt = &earlier
	assert.Nil(t, end())
}
