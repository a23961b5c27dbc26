package screentest

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/rehearse"
	"loosebox/exam/steps"
	"loosebox/tui/nav"
)

// Cases are the built-in cases, as Deps.Cases.
func Cases(t testing.TB, deps *nav.Deps) func() ([]rehearse.Case, []string) {
	read := sync.OnceValues(func() ([]rehearse.Case, error) { return rehearse.Cases(deps.Steps, deps.Ranges) })
	return func() ([]rehearse.Case, []string) {
		cases, err := read()
		require.NoError(t, err)
		return cases, nil
	}
}

// Rehearse has a scripted trainee play a built-in case with its own routine, stores it among the rehearsals, and returns its
// visit.
func Rehearse(t testing.TB, deps *nav.Deps, name string, seed uint64, at time.Time, who rehearse.Trainee, behindOpening ...exam.Entry) exam.VisitID {
	t.Helper()
	cases, _ := deps.Cases()
	c, ok := rehearse.CaseNamed(cases, name)
	require.True(t, ok, name)
	h, err := rehearse.New(c, seed, at, deps.Steps, deps.Ranges)
	require.NoError(t, err)
	routine, ok := steps.Find(deps.Routines, c.Routine)
	require.True(t, ok, c.Routine)
	entries, err := who.Rehearse(h, routine)
	require.NoError(t, err)
	animal, err := deps.Rehearsals.SaveHorse(h.Animal, who.By, at)
	require.NoError(t, err)
	entries[0].Opening.Horse = animal
	v, err := deps.Rehearsals.Begin(entries[0])
	require.NoError(t, err)
	for i := range behindOpening {
		behindOpening[i].At, behindOpening[i].By = at, who.By
	}
	for _, e := range append(behindOpening, entries[1:]...) {
		e.Visit = v.ID
		_, err := deps.Rehearsals.Append(e)
		require.NoError(t, err)
	}
	return v.ID
}
