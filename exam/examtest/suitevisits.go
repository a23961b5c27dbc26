package examtest

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

func checkVisit(t *testing.T, s exam.Store) {
	h := saved(t, s, "Bracken")
	v := begun(t, s, h, noon())
	require.NotEmpty(t, v.ID)
	assert.Equal(t, h, v.Horse)
	assert.Equal(t, "full", v.Routine)
	assert.Equal(t, 1, v.Entries)
	assert.True(t, v.OpenedAt.Equal(noon()))
	_, offset := v.OpenedAt.Zone()
	assert.Equal(t, 3600, offset, "the offset is kept")

	first := appended(t, s, finding(v, "temp.rectal", 38.4))
	appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryNotDone, At: noon(), By: "Bo", Step: "gum.refill", Reason: string(exam.ReasonRefused)})
	appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryContext, At: noon(), By: "Bo", Context: &exam.Context{States: []exam.State{exam.StateHot}}})
	appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryNote, At: noon(), By: "Bo", Note: "quiet today"})

	// The horse is changed meanwhile; the visit keeps the horse of its day.
	h.Revision, h.Name = 2, "Brackenfield"
	_, err := s.SaveHorse(h, "Ann", noon())
	require.NoError(t, err)

	back, err := s.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, "Bracken", back.Horse.Name)
	assert.True(t, back.Context.Has(exam.StateHot))
	require.Len(t, back.Notes, 1)
	f, ok := back.Finding(exam.Key{Step: "temp.rectal"})
	require.True(t, ok)
	assert.Equal(t, *first.Value, f.Value, "every part of a value is kept")
	refused, _ := back.Finding(exam.Key{Step: "gum.refill"})
	assert.Equal(t, exam.ReasonRefused, refused.NotDone)
	assert.Equal(t, "Bo", refused.By)

	entries, err := s.Entries(v.ID)
	require.NoError(t, err)
	folded, err := exam.Fold(entries)
	require.NoError(t, err)
	assert.Equal(t, folded, back)

	_, err = s.Begin(exam.Entry{Kind: exam.EntryNote, At: noon()})
	require.Error(t, err, "a visit begins with its opening")
	_, err = s.Append(exam.Entry{Visit: v.ID, Kind: exam.EntryOpened, Opening: &exam.Opening{Horse: h}, At: noon()})
	require.Error(t, err, "and is opened once")
}

func checkChain(t *testing.T, s exam.Store) {
	v := begun(t, s, saved(t, s, "Bracken"), noon())
	for i := range 5 {
		e := finding(v, exam.StepID(fmt.Sprintf("step.%d", i)), 38)
		e.Seq, e.Prev = 77, "nonsense" // the store sets both
		got := appended(t, s, e)
		assert.Equal(t, i+2, got.Seq)
	}
	entries, err := s.Entries(v.ID)
	require.NoError(t, err)
	require.Len(t, entries, 6)
	var prev exam.Hash
	for i, e := range entries {
		assert.Equal(t, i+1, e.Seq)
		assert.Equal(t, v.ID, e.Visit)
		assert.Equal(t, prev, e.Prev)
		assert.Len(t, string(e.Hash), 64, "the identity of the line")
		prev = e.Hash
	}
	back, err := s.Visit(v.ID)
	require.NoError(t, err)
	assert.Equal(t, prev, back.Last)
}

func checkClosed(t *testing.T, s exam.Store) {
	v := begun(t, s, saved(t, s, "Bracken"), noon())
	first := appended(t, s, finding(v, "temp.rectal", 39.4))
	appended(t, s, closing(v))
	for _, e := range []exam.Entry{finding(v, "temp.rectal", 38), closing(v), {Visit: v.ID, Kind: exam.EntryNote, Note: "x", At: noon()}} {
		_, err := s.Append(e)
		require.ErrorIs(t, err, exam.ErrClosed, "%s", e.Kind)
	}
	right := finding(v, "temp.rectal", 38.4)
	right.Corrects, right.Amend = first.Seq, &exam.Amendment{Why: "read wrong"}
	appended(t, s, right)
	appended(t, s, late(v, "owner rang"))
	nobody := right
	nobody.Corrects = 99
	_, err := s.Append(nobody)
	require.Error(t, err, "a correction names an entry that is there")

	back, err := s.Visit(v.ID)
	require.NoError(t, err)
	assert.True(t, back.Closed())
	assert.Equal(t, 5, back.Entries, "a refused entry leaves no trace")
	f, _ := back.Finding(exam.Key{Step: "temp.rectal"})
	assert.InDelta(t, 38.4, f.Value.Number.Value, 0)
	require.Len(t, f.Before, 1)
	assert.Equal(t, first.Seq, f.Before[0].Seq)
	assert.InDelta(t, 39.4, f.Before[0].Value.Number.Value, 0, "the old value stays beside the new")
	assert.EqualValues(t, "read wrong", f.Why)
	entries, err := s.Entries(v.ID)
	require.NoError(t, err)
	assert.InDelta(t, 39.4, entries[1].Value.Number.Value, 0, "the corrected line stays readable")
}

func checkOrder(t *testing.T, s exam.Store) {
	one, two := saved(t, s, "Ash"), saved(t, s, "Moth")
	var ids []exam.VisitID // of one, oldest first
	for _, hours := range []int{0, 48, 24} {
		v := begun(t, s, one, noon().Add(time.Duration(hours)*time.Hour))
		ids = append(ids, v.ID)
	}
	other := begun(t, s, two, noon().Add(36*time.Hour).UTC()) // another offset sorts by the moment
	appended(t, s, closing(exam.Visit{ID: ids[1], OpenedAt: noon()}))

	past, err := s.Past(one.ID, 0)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{ids[1], ids[2], ids[0]}, visitIDs(past))
	past, err = s.Past(one.ID, 2)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{ids[1], ids[2]}, visitIDs(past))
	recent, err := s.Recent(3)
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{ids[1], other.ID, ids[2]}, visitIDs(recent))
	left, err := s.Unfinished()
	require.NoError(t, err)
	assert.Equal(t, []exam.VisitID{other.ID, ids[2], ids[0]}, visitIDs(left))
}

func visitIDs(visits []exam.Visit) []exam.VisitID {
	ids := make([]exam.VisitID, len(visits))
	for i, v := range visits {
		ids[i] = v.ID
	}
	return ids
}

func checkAliasing(t *testing.T, s exam.Store) {
	h, err := s.SaveHorse(exam.Horse{Revision: 1, Name: "Ash", Cautions: []string{"kicks"}}, "Ann", noon())
	require.NoError(t, err)
	v := begun(t, s, h, noon())
	appended(t, s, finding(v, "temp.rectal", 38.4))
	seen, err := s.Visit(v.ID)
	require.NoError(t, err)
	h.Cautions[0] = "changed"
	seen.Findings[0].Note, seen.Horse.Cautions[0] = "changed", "changed"
	back, err := s.Visit(v.ID)
	require.NoError(t, err)
	assert.Empty(t, back.Findings[0].Note)
	assert.Equal(t, []string{"kicks"}, back.Horse.Cautions)
	stored, err := s.Horse(h.ID)
	require.NoError(t, err)
	assert.Equal(t, []string{"kicks"}, stored.Cautions)
}

func checkHostile(t *testing.T, s exam.Store) {
	h, err := s.SaveHorse(exam.Horse{Revision: 1, Name: "\x1b[2JAsh\u202e", Owner: "a\rb", Cautions: []string{"\x1b[31mkicks"}}, "Ann", noon())
	require.NoError(t, err)
	assert.Equal(t, "Ash", h.Name)
	assert.Equal(t, []string{"kicks"}, h.Cautions)
	v := begun(t, s, h, noon())
	e := appended(t, s, exam.Entry{Visit: v.ID, Kind: exam.EntryNote, Note: "a\x1b]0;t\x07b\xff", At: noon(), By: "Ann"})
	assert.NotContains(t, e.Note, "\x1b")
	assert.Equal(t, notation.CleanNote(e.Note), e.Note)
}

func checkParallel(t *testing.T, s exam.Store) {
	v := begun(t, s, saved(t, s, "Ash"), noon())
	var wg sync.WaitGroup
	errs := make(chan error, 40)
	for i := range 8 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for j := range 5 {
				_, err := s.Append(finding(v, exam.StepID(fmt.Sprintf("step.%d.%d", i, j)), 38))
				errs <- err
			}
		}()
	}
	wg.Wait()
	close(errs)
	for err := range errs {
		require.NoError(t, err)
	}
	entries, err := s.Entries(v.ID)
	require.NoError(t, err)
	_, err = exam.Fold(entries)
	require.NoError(t, err)
	assert.Len(t, entries, 41)
}

// A check sees the visit and the horse's others as they stand, and what it refuses is not written.
func checkChecks(t *testing.T, s exam.Store) {
	h := saved(t, s, "Bracken")
	earlier := begun(t, s, h, noon())
	appended(t, s, closing(earlier))
	v := begun(t, s, h, noon().Add(48*time.Hour))
	appended(t, s, finding(v, "temp.rectal", 38.4))
	no := &notation.Refusal{Why: "not now"}
	asked := 0
	check := func(answer error) exam.Check {
		return func(at exam.ReadTx) error {
			asked++
			stands, err := at.Visit()
			require.NoError(t, err)
			require.Len(t, stands.Findings, 1)
			past, err := at.Past()
			require.NoError(t, err)
			require.Len(t, past, 2)
			assert.Equal(t, v.ID, past[0].ID, "newest first, this one among them")
			assert.Equal(t, earlier.ID, past[1].ID)
			return answer
		}
	}
	_, err := s.Append(finding(v, "heart.rate", 36), check(nil), check(no))
	require.ErrorIs(t, err, no)
	assert.Equal(t, 2, asked)
	back, err := s.Visit(v.ID)
	require.NoError(t, err)
	require.Len(t, back.Findings, 1, "nothing was saved")
	_, err = s.Append(finding(v, "heart.rate", 36), check(nil))
	require.NoError(t, err)
}
