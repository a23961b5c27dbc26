package storage_test

import (
	"context"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

// Many visits are struck in one transaction, all or none; open ones too, and one that is struck already stays as it is.
func TestManyVisitsAreStruckAtOnce(t *testing.T) {
	r, _ := newRecord(t)
	var ids []exam.VisitID
	var horses []exam.Horse
	for _, name := range []string{"Bracken", "Moth"} {
		h := saveHorse(t, r, name)
		horses = append(horses, h)
		closed := append(append([]exam.Entry{opened("", day())}, answers("", 4, day())...), closing("", day()))
		open := []exam.Entry{opened("", day().AddDate(0, 0, 1))}
		require.NoError(t, r.Import(context.Background(), []storage.Imported{{Horse: h, Entries: [][]exam.Entry{closed, open}}}))
		past, err := r.Past(h.ID, 0)
		require.NoError(t, err)
		for _, v := range past {
			ids = append(ids, v.ID)
		}
	}
	line := exam.Entry{Kind: exam.EntryStruck, At: day(), By: "Ann", Amend: &exam.Amendment{Why: "the wrong yard"}}
	standing := func() (n int) {
		for _, h := range horses {
			outline, err := r.Outline(h.ID, time.Time{})
			require.NoError(t, err)
			n += len(outline)
		}
		return n
	}
	n, err := r.StrikeAll(context.Background(), append(ids[:3:3], "nothing"), line)
	require.ErrorIs(t, err, exam.ErrNotFound)
	assert.Equal(t, []int{0, 4}, []int{n, standing()})
	ended, end := context.WithCancel(context.Background())
	end()
	n, err = r.StrikeAll(ended, ids, line)
	require.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, []int{0, 4}, []int{n, standing()})
	unsaid := line
	unsaid.Amend = &exam.Amendment{}
	_, err = r.StrikeAll(context.Background(), ids, unsaid)
	require.ErrorContains(t, err, "why the visit is voided")

	single := line
	single.Visit = ids[1]
	_, _, err = r.Strike(single, "")
	require.NoError(t, err)
	n, err = r.StrikeAll(context.Background(), ids, line)
	require.NoError(t, err)
	assert.Equal(t, []int{3, 0}, []int{n, standing()})
	report, err := r.Check(context.Background())
	require.NoError(t, err)
	assert.True(t, report.OK, "%v", report.Broken)
	for _, id := range ids {
		v, err := r.Visit(id)
		require.NoError(t, err)
		assert.EqualValues(t, "the wrong yard", v.Struck.Why)
	}
}
