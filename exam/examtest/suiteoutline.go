package examtest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// checkOutline holds that an outline follows every kind of write, and thins only what is
// closed and older than was asked for.
func checkOutline(t *testing.T, s exam.Store) {
	h := saved(t, s, "Bracken")
	since := noon().AddDate(0, 0, 80)
	same := func(why string) []exam.Visit {
		past, err := s.Past(h.ID, 0)
		require.NoError(t, err)
		got, err := s.Outline(h.ID, since)
		require.NoError(t, err)
		want := Outline(past, since)
		require.Len(t, got, len(want), why)
		for i := range want {
			// Empty and missing lists are the same in a row.
			assert.Equal(t, want[i].ID, got[i].ID, why)
			assert.Len(t, got[i].Findings, len(want[i].Findings), why)
			assert.True(t, past[i].LookedAt().Equal(got[i].LookedAt()), why)
			assert.Equal(t, past[i].OnlyPapers(), got[i].OnlyPapers(), why)
			assert.Equal(t, want[i].Horse.ID, got[i].Horse.ID, why)
			assert.Equal(t, want[i].Rechecks, got[i].Rechecks, why)
			assert.Equal(t, []any{want[i].Last, want[i].Entries, want[i].Closed(), want[i].Reason}, []any{got[i].Last, got[i].Entries, got[i].Closed(), got[i].Reason}, why)
		}
		return got
	}
	same("no visit yet")
	var all []exam.Visit
	for i := range 4 {
		v := begun(t, s, h, noon().AddDate(0, 0, 50*i))
		appended(t, s, finding(v, "temp.rectal", 38))
		appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryNote, At: v.OpenedAt, By: "Ann", Recheck: &exam.RecheckLine{On: "2027-01-01", What: "neck"}})
		all = append(all, v)
		if i != 0 {
			appended(t, s, closing(v))
		}
		same("closed or open")
	}
	got := same("four visits")
	assert.NotEmpty(t, got[0].Findings)
	assert.NotEmpty(t, got[1].Findings, "opened since")
	assert.Empty(t, got[2].Findings, "closed, and opened before")
	assert.Len(t, got[2].Rechecks, 1, "what is due of it stays")
	assert.False(t, got[2].LookedAt().IsZero(), "that somebody looked stays")
	assert.NotEmpty(t, got[3].Findings, "it is open")

	stamp := func() uint64 {
		list, err := s.Horses()
		require.NoError(t, err)
		require.Len(t, list, 1)
		return list[0].Stamp
	}
	before := stamp()
	late := finding(all[1], "heart.rate", 38)
	late.Kind, late.Amend = exam.EntryAdded, &exam.Amendment{Why: "forgotten"}
	appended(t, s, late)
	same("a line after the closing")
	assert.NotEqual(t, before, stamp(), "a list can tell that a closed visit changed")
	_, _, err := s.Strike(exam.Entry{Visit: all[2].ID, Kind: exam.EntryStruck, By: "Ann", At: noon().Add(time.Hour), Amend: &exam.Amendment{Why: "wrong horse"}}, "")
	require.NoError(t, err)
	assert.Len(t, same("a struck visit"), 3)
	_, err = s.Outline("nobody", since)
	require.NoError(t, err)
}
