package examtest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// late is a note that is added two days after its visit.
func late(v exam.Visit, note string) exam.Entry {
	happened := v.OpenedAt.Add(2 * time.Hour)
	return exam.Entry{
		Visit: v.ID, Kind: exam.EntryAdded, Note: note, By: "Ann", At: v.OpenedAt.Add(48 * time.Hour),
		Amend: &exam.Amendment{Why: "forgotten on the day", Happened: &happened},
	}
}

func striking(v exam.Visit, why exam.AmendReason) exam.Entry {
	return exam.Entry{Visit: v.ID, Kind: exam.EntryStruck, By: "Bo", At: v.OpenedAt.Add(3 * time.Hour), Amend: &exam.Amendment{Why: why}}
}

func checkAmended(t *testing.T, s exam.Store) {
	v := begun(t, s, saved(t, s, "Bracken"), noon())
	first := appended(t, s, finding(v, "temp.rectal", 39.4))
	note := appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryNote, Note: "quiet", By: "Ann", At: noon()})
	appended(t, s, closing(v))

	silent := finding(v, "temp.rectal", 38.4)
	silent.Corrects = first.Seq
	silentLate := late(v, "owner rang")
	silentLate.Amend = nil
	future := late(v, "owner rang")
	then := future.At.Add(time.Hour)
	future.Amend.Happened = &then
	second := late(v, "")
	second.Step, second.Value = "temp.rectal", first.Value
	for name, e := range map[string]exam.Entry{
		"a correction without its reason": silent, "a late note without its reason": silentLate,
		"a late note from the future": future, "a second answer that corrects none": second,
	} {
		_, err := s.Append(e)
		require.Error(t, err, name)
	}

	appended(t, s, late(v, "owner rang"))
	added := late(v, "")
	added.Step, added.Value = "gum.refill", &exam.Value{Kind: exam.KindTime, Number: &notation.Quantity{Value: 2, Unit: notation.Seconds}}
	appended(t, s, added)
	fixed := exam.Entry{
		Visit: v.ID, Kind: exam.EntryNote, Note: "restless", By: "Bo", At: noon().Add(50 * time.Hour), Corrects: note.Seq,
		Amend: &exam.Amendment{Why: "another horse was meant"},
	}
	appended(t, s, fixed)

	back, err := s.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, 7, back.Entries, "what was refused left no trace")
	require.Len(t, back.Notes, 2)
	assert.Equal(t, "restless", back.Notes[0].Text)
	assert.EqualValues(t, "another horse was meant", back.Notes[0].Why)
	require.Len(t, back.Notes[0].Before, 1)
	assert.Equal(t, "quiet", back.Notes[0].Before[0].Text)
	assert.True(t, back.Notes[1].Added, "a late entry says that it is late")
	assert.EqualValues(t, "forgotten on the day", back.Notes[1].Why)
	require.NotNil(t, back.Notes[1].Happened)
	assert.True(t, back.Notes[1].Happened.Equal(v.OpenedAt.Add(2*time.Hour)))
	f, ok := back.Finding(exam.Key{Step: "gum.refill"})
	require.True(t, ok)
	assert.True(t, f.Added)
	assert.True(t, f.Done())
	folded(t, s, back)
}

// folded makes sure that what a store says of a visit is the fold of its lines.
func folded(t *testing.T, s exam.Store, v exam.Visit) {
	t.Helper()
	entries, err := s.Entries(v.ID)
	require.NoError(t, err)
	fold, err := exam.Fold(entries)
	require.NoError(t, err)
	assert.Equal(t, fold, v)
}

func checkStruck(t *testing.T, s exam.Store) {
	h := saved(t, s, "Bracken")
	done, open, stays := begun(t, s, h, noon()), begun(t, s, h, noon().Add(24*time.Hour)), begun(t, s, h, noon().Add(-time.Hour))
	for _, v := range []exam.Visit{done, stays} {
		appended(t, s, closing(v))
	}
	_, _, err := s.Strike(striking(done, ""), "")
	require.Error(t, err, "a visit is not struck without a reason")
	_, err = s.Append(striking(done, "wrong horse"))
	require.Error(t, err, "a visit is struck as a whole")
	_, _, err = s.Strike(exam.Entry{Visit: "nothing", Kind: exam.EntryStruck, By: "Ann", At: noon(), Amend: &exam.Amendment{Why: "x"}}, "")
	require.ErrorIs(t, err, exam.ErrNotFound)
	_, _, err = s.Strike(striking(done, "wrong horse"), "nobody")
	require.ErrorIs(t, err, exam.ErrNotFound, "and nothing is struck then")

	for _, v := range []exam.Visit{done, open} {
		struck, again, err := s.Strike(striking(v, "wrong horse"), "")
		require.NoError(t, err)
		assert.Empty(t, again.ID)
		require.NotNil(t, struck.Struck)
		assert.EqualValues(t, "wrong horse", struck.Struck.Why)
		assert.Equal(t, "Bo", struck.Struck.By)
		assert.True(t, struck.Closed(), "a struck visit is not gone on with")
		back, err := s.Visit(v.ID)
		require.NoError(t, err)
		assert.Equal(t, struck, back, "it stays readable")
		folded(t, s, back)
		_, err = s.Append(late(v, "owner rang"))
		require.ErrorIs(t, err, exam.ErrClosed, "and takes nothing more")
		_, _, err = s.Strike(striking(v, "once more"), "")
		require.ErrorIs(t, err, exam.ErrClosed)
	}

	past, err := s.Past(h.ID, 0)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{stays.ID}, visitIDs(past))
	past, err = s.Past(h.ID, 1)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{stays.ID}, visitIDs(past), "a struck visit takes no place of one that counts")
	recent, err := s.Recent(5)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{stays.ID}, visitIDs(recent))
	left, err := s.Unfinished()
	require.NoError(t, err)
	assert.Empty(t, left)
	struck, err := s.Struck(h.ID)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{open.ID, done.ID}, visitIDs(struck))
	found, err := s.Horses()
	require.NoError(t, err)
	assert.Equal(t, 1, found[0].Visits)
	assert.True(t, found[0].LastAt.Equal(stays.OpenedAt))
	assert.Empty(t, found[0].Open)
}

func checkEnteredAgain(t *testing.T, s exam.Store) {
	wrong, right := saved(t, s, "Bracken"), saved(t, s, "Moth")
	v := begun(t, s, wrong, noon())
	first := appended(t, s, finding(v, "temp.rectal", 39.4))
	second := finding(v, "temp.rectal", 38.4)
	second.Corrects = first.Seq
	appended(t, s, second)
	appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryNotDone, At: noon(), By: "Cy", Step: "gum.refill", Reason: string(exam.ReasonRefused)})
	appended(t, s, closing(v))
	appended(t, s, late(v, "owner rang"))
	before, err := s.Visit(v.ID)
	require.NoError(t, err)

	struck, again, err := s.Strike(striking(v, "it was Moth"), right.ID)
	require.NoError(t, err)
	assert.Equal(t, again.ID, struck.Struck.Again)
	require.NotNil(t, again.Entered)
	assert.Equal(t, v.ID, again.Entered.Instead)
	assert.EqualValues(t, "it was Moth", again.Entered.Why)
	assert.Equal(t, "Bo", again.Entered.By)
	if !(exam.Opening{Source: v.Source}).IsRehearsal() {
		assert.Contains(t, again.Source, string(v.ID))
		assert.Contains(t, again.Source, "Bracken")
	}
	assert.Equal(t, right, again.Horse)
	assert.Equal(t, before.Findings, again.Findings, "times, names and what was corrected stay")
	assert.Equal(t, before.Notes, again.Notes)
	assert.Equal(t, before.ClosedAt, again.ClosedAt)
	assert.True(t, again.OpenedAt.Equal(v.OpenedAt))
	folded(t, s, again)
	back, err := s.Visit(again.ID)
	require.NoError(t, err)
	assert.Equal(t, again, back)
	past, err := s.Past(right.ID, 0)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{again.ID}, visitIDs(past))
	_, _, err = s.Strike(striking(v, "once more"), right.ID)
	require.ErrorIs(t, err, exam.ErrClosed, "it is entered again once")

	// An open visit goes on under the right name; one that was struck only can
	// be entered again later, for the same horse too.
	open := begun(t, s, wrong, noon().Add(time.Hour))
	appended(t, s, finding(open, "temp.rectal", 38))
	_, moved, err := s.Strike(striking(open, "it was Moth"), right.ID)
	require.NoError(t, err)
	assert.False(t, moved.Closed())
	appended(t, s, finding(moved, "heart.rate", 40))
	_, _, err = s.Strike(striking(moved, "struck by mistake"), "")
	require.NoError(t, err)
	_, same, err := s.Strike(striking(moved, "it was Moth after all"), right.ID)
	require.NoError(t, err)
	assert.Len(t, same.Findings, 2)
	left, err := s.Unfinished()
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{same.ID}, visitIDs(left))
}
