package nav_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/nav"
	"loosebox/tui/screen/screentest"
)

func open(t *testing.T) (*nav.Deps, *examtest.Store, exam.VisitID) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	return deps, store, screentest.Open(t, store).ID
}

func decision() *exam.Decision {
	return &exam.Decision{Words: "give it", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.Cover{screentest.Vaccine()}}
}

func entry(id exam.VisitID) exam.Entry {
	return exam.Entry{Visit: id, Kind: exam.EntryDecision, At: screentest.Now(), By: "Ann Bell", Decision: decision()}
}

// The gate is asked on the visit as the store has it, with the judge's remarks.
func TestWriteAsksTheGate(t *testing.T) {
	deps, store, id := open(t)
	bad := entry(id)
	bad.Decision.Covers = nil
	var refusal *exam.Refusal
	_, err := deps.Write(bad)
	require.ErrorAs(t, err, &refusal)
	order := exam.Entry{Visit: id, Kind: exam.EntryInjection, At: screentest.Now(), By: "Ann Bell", Injection: &exam.InjectionLine{
		Number: 1, Phase: exam.InjectionReady, Order: &exam.Order{
			Product: "Vaccine A", Lot: "A1", Dose: "1 dose", VolumeML: 1, Route: exam.RouteIM, Expiry: exam.Expiry{Last: "2027-02-28"},
		},
	}}
	_, err = deps.Write(order)
	require.ErrorIs(t, err, exam.ErrRefused)
	_, err = deps.Write(entry(id))
	require.NoError(t, err)
	screentest.Fever(t, store, id)
	_, err = deps.Write(order)
	require.ErrorIs(t, err, exam.ErrRefused, "a store knows no ranges; this does")
	assert.Contains(t, err.Error(), "40.2 C")
	_, err = deps.Write(entry(id))
	require.NoError(t, err)
	_, err = deps.Write(order)
	require.NoError(t, err)
}

// In a closed visit a line is added later, with its reason; a correction keeps the
// kind of what it corrects.
func TestWriteInAClosedVisit(t *testing.T) {
	deps, store, id := open(t)
	first, err := deps.Write(entry(id))
	require.NoError(t, err)
	_, err = deps.Write(exam.Entry{Visit: id, Kind: exam.EntryClosed, At: screentest.Now(), By: "Ann Bell"})
	require.NoError(t, err)
	_, err = deps.Write(exam.Entry{Visit: id, Kind: exam.EntryClosed, At: screentest.Now(), By: "Ann Bell"})
	require.ErrorIs(t, err, exam.ErrClosed)

	_, err = deps.Write(entry(id))
	require.Error(t, err, "a reason is needed")
	late := entry(id)
	late.Reason = "she rang at night"
	added, err := deps.Write(late)
	require.NoError(t, err)
	assert.Equal(t, exam.EntryAdded, added.Kind)
	assert.Equal(t, "she rang at night", added.Amend.Why)

	for _, seq := range []int{first.Seq, added.Seq} {
		right := entry(id)
		right.Corrects, right.Reason = seq, "a slip"
		corrected, err := deps.Write(right)
		require.NoError(t, err)
		entries, err := store.Entries(id)
		require.NoError(t, err)
		assert.Equal(t, entries[seq-1].Kind, corrected.Kind)
	}
	v, err := store.Visit(id)
	require.NoError(t, err)
	require.Len(t, v.Decisions, 4)
	assert.True(t, v.Decisions[0].Corrected && v.Decisions[1].Corrected)
}

func TestWhatKeepsAVisitOpen(t *testing.T) {
	deps, store, id := open(t)
	look := func() exam.Visit {
		v, err := store.Visit(id)
		require.NoError(t, err)
		return v
	}
	_, _, ok := nav.Unfinished(look())
	assert.False(t, ok)
	screentest.Rule(t, store, id, exam.GoAhead, screentest.Vaccine(), screentest.Blood())
	screentest.NeedleIn(t, store, id)
	to, why, ok := nav.NeedleIn(look())
	require.True(t, ok)
	assert.Equal(t, nav.Address{Screen: nav.Injection, Horse: look().Horse.ID, Visit: id, Number: 1}, to)
	assert.Equal(t, "A needle is in since 10:50 (injection of Vaccine A, neck triangle, left), and nothing says what happened to it.", why)

	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryInjection, Injection: &exam.InjectionLine{Number: 1, Phase: exam.InjectionGiven, VolumeML: 1, Afterwards: true}})
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	_, _, ok = nav.NeedleIn(look())
	assert.False(t, ok, "a watch is no needle")
	to, _, ok = nav.Unfinished(look())
	assert.True(t, ok)
	assert.Equal(t, nav.Watch, to.Screen)
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "a count"}}})
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawNeedleIn, Place: exam.Place{Site: "jugular"}}})
	to, _, _ = nav.Unfinished(look())
	assert.Equal(t, nav.Address{Screen: nav.Draw, Horse: look().Horse.ID, Visit: id, Number: 1}, to, "a needle comes before a watch")
	_, err := deps.Write(exam.Entry{Visit: id, Kind: exam.EntryClosed, At: screentest.Now(), By: "Ann Bell"})
	var refusal *exam.Refusal
	require.ErrorAs(t, err, &refusal)
}

// A run that ended between opening and closing the visit of the papers leaves an
// open visit, and the next dose goes on in it: nothing is lost.
func TestPapersAfterAnInterruption(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	v, err := store.Begin(exam.Entry{Kind: exam.EntryOpened, At: screentest.Now(), By: "Ann", Opening: &exam.Opening{Horse: h, Routine: exam.RoutinePapers}})
	require.NoError(t, err)
	line := exam.InjectionLine{Phase: exam.InjectionNoted, On: "2025", Basis: "passport", Order: &exam.Order{Product: "X", Against: []string{"tetanus"}}}
	id, stored, err := deps.Note(h.ID, line, "Ann", screentest.Now().Add(time.Hour))
	require.NoError(t, err)
	assert.Equal(t, v.ID, id)
	assert.Equal(t, 1, stored.Injection.Number)
	v, err = store.Visit(id)
	require.NoError(t, err)
	assert.True(t, v.Closed(), "and it is closed then")
	_, err = deps.PutRight(id, 2, line, "Ann", "why", screentest.Now())
	var refusal *exam.Refusal
	require.ErrorAs(t, err, &refusal)
}
