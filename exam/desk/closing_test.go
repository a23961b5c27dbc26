package desk_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/after"
	"loosebox/exam/desk"
)

// closed closes the visit an hour after it was begun, with a decision before it.
func closed(t *testing.T) (desk.Desk, exam.VisitID) {
	t.Helper()
	d, _, id := open(t)
	_, err := d.Write(entry(id))
	require.NoError(t, err)
	_, err = d.Close(id, desk.Ending{}, "Ann Bell", now)
	require.NoError(t, err)
	return d, id
}

func later(e exam.Entry, by time.Duration) exam.Entry {
	e.At = e.At.Add(by)
	return e
}

func decided(id exam.VisitID, by time.Duration) exam.Entry {
	e := later(entry(id), by)
	e.Reason = "the veterinarian rang back"
	return e
}

// What was decided before closing is locked with the visit; what is decided after it,
// on the same day, is not, and every line says that it came later.
func TestADecisionAfterClosingTakesADose(t *testing.T) {
	d, id := closed(t)
	_, err := d.Write(later(order(id), time.Hour))
	require.ErrorIs(t, err, exam.ErrRefused)
	require.ErrorContains(t, err, "The visit is closed, and earlier decisions")

	stored, err := d.Write(decided(id, time.Hour))
	require.NoError(t, err)
	assert.True(t, stored.Decision.AfterClosing)
	line := func(l exam.InjectionLine, by time.Duration) exam.Entry {
		l.Number = 1
		return later(exam.Entry{Visit: id, Kind: exam.EntryInjection, At: now(), By: "Ann Bell", Injection: &l}, by)
	}
	ready := later(order(id), time.Hour)
	ready.Injection.Order.Decision = stored.Seq
	written, err := d.WriteAll(
		ready,
		line(exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: "neck triangle", Side: exam.Left}}, time.Hour),
		line(exam.InjectionLine{Phase: exam.InjectionClear}, time.Hour),
	)
	require.NoError(t, err)

	waiting, err := d.Waiting()
	require.NoError(t, err)
	require.Len(t, waiting, 1, "a needle in a closed visit waits for somebody")
	more, err := d.WriteAll(
		line(exam.InjectionLine{Phase: exam.InjectionGiven, VolumeML: 1}, time.Hour),
		later(exam.Entry{Visit: id, Kind: exam.EntryWatch, At: now(), By: "Ann Bell", Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}}, time.Hour),
	)
	require.NoError(t, err)
	for _, e := range append(written, more...) {
		assert.Equal(t, exam.EntryAdded, e.Kind)
		require.NotNil(t, e.Amend)
		assert.Equal(t, exam.AmendDecided, e.Amend.Why)
	}
	j, err := d.Read(id)
	require.NoError(t, err)
	assert.True(t, j.Visit.Closed(), "no new exam, and no visit opened again")
	assert.Equal(t, exam.InjectionGiven, j.Visit.Injections[0].State)
	assert.Len(t, j.Visit.Watching(), 1)

	_, err = d.Write(later(order(id), 2*time.Hour))
	require.Error(t, err, "one order is one dose")
}

func TestAfterClosingHoldsForOneDay(t *testing.T) {
	d, id := closed(t)
	_, err := d.Write(decided(id, 12*time.Hour)) // 23:05
	require.NoError(t, err)
	j, err := d.Read(id)
	require.NoError(t, err)
	assert.Equal(t, "2026-03-02 23:59", j.Visit.Holds(j.Visit.Decisions[1]).Format("2006-01-02 15:04"))
	_, err = d.Write(later(order(id), 13*time.Hour)) // 00:05 of the next day
	require.ErrorIs(t, err, exam.ErrRefused)
	require.ErrorContains(t, err, "was closed on 2 Mar 2026")
}

// A correction of what was decided before closing opens nothing, and nobody marks a
// decision themselves.
func TestOnlyADecisionAfterClosingIsMarked(t *testing.T) {
	d, id := closed(t)
	right := decided(id, time.Hour)
	right.Corrects = 2 // the decision of the open visit
	right.Decision.AfterClosing = true
	stored, err := d.Write(right)
	require.NoError(t, err)
	assert.False(t, stored.Decision.AfterClosing)
	_, err = d.Write(later(order(id), time.Hour))
	require.ErrorIs(t, err, exam.ErrRefused)

	fresh, _, other := open(t)
	marked := entry(other)
	marked.Decision.AfterClosing = true
	stored, err = fresh.Write(marked)
	require.NoError(t, err)
	assert.False(t, stored.Decision.AfterClosing, "the visit is open")
	_, err = fresh.Store.Append(marked)
	require.ErrorIs(t, err, exam.ErrRefused, "and the store does not take it either")
}

// Something for the veterinarian after the new decision locks again.
func TestAFindingAfterItLocksAgain(t *testing.T) {
	d, id := closed(t)
	_, err := d.Write(decided(id, time.Hour))
	require.NoError(t, err)
	e := later(fever(id), time.Hour)
	e.Kind, e.Amend = exam.EntryAdded, &exam.Amendment{Why: "looked once more"}
	_, err = d.Write(e)
	require.NoError(t, err)
	_, err = d.Write(later(order(id), time.Hour))
	require.ErrorIs(t, err, exam.ErrRefused)
	require.ErrorContains(t, err, "something new for the veterinarian")
}

// Closing says what it locks before it does.
func TestClosingSaysWhatItLocks(t *testing.T) {
	d, _, id := open(t)
	said := func() string {
		j, err := d.Read(id)
		require.NoError(t, err)
		return after.Locks(d.Following(j, exam.Settings{}, now()))
	}
	assert.NotContains(t, said(), "It locks decided procedures that are not")
	_, err := d.Write(entry(id))
	require.NoError(t, err)
	assert.Contains(t, said(), "It locks decided procedures that are not done: give Vaccine A, IM, 1 dose.")
	assert.Contains(t, said(), "Decisions of later today can still be added")
}
