package examtest

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/notation"
)

// RunJoined checks a store of real horses in which one horse was entered twice.
func RunJoined(t *testing.T, make func() exam.Store) {
	t.Helper()
	for _, c := range []struct {
		name  string
		check func(*testing.T, exam.Store)
	}{
		{"two records are read as one, and given back", checkJoined},
		{"what is saved of a joined horse counts while it is joined", checkSavedJoined},
		{"what cannot be joined is refused", checkNotJoined},
		{"a third record comes and goes", checkThird},
	} {
		t.Run(c.name, func(t *testing.T) { c.check(t, make()) })
	}
}

// twice are two records of one horse, the smaller identity first, with a visit each.
func twice(t *testing.T, s exam.Store) (a, b exam.Horse, first, second exam.Visit) {
	t.Helper()
	save := func(h exam.Horse) exam.Horse {
		h.Kind, h.Revision = exam.AnimalHorse, 1
		back, err := s.SaveHorse(h, "Ann", noon())
		require.NoError(t, err)
		return back
	}
	a = save(exam.Horse{Name: "Bracken", Owner: "Lund", Chip: "985112345678903", Cautions: []string{"kicks"}, Birth: exam.Birth{Precision: exam.BornUnknown}})
	b = save(exam.Horse{
		Name: "Brackn", Owner: "Lund", Place: "box 3", Cautions: []string{"bites"}, Reactions: []string{"swelling"},
		Birth: exam.Birth{At: noon().AddDate(-9, 0, 0), Precision: exam.BornYear},
	})
	if b.ID < a.ID {
		a, b = b, a
	}
	first, second = begun(t, s, a, noon()), begun(t, s, b, noon().Add(time.Hour))
	third := begun(t, s, b, noon().Add(-time.Hour))
	appended(t, s, closing(third))
	_, _, err := s.Strike(exam.Entry{Kind: exam.EntryStruck, Visit: third.ID, At: noon(), By: "Ann", Amend: &exam.Amendment{Why: "wrong horse"}}, "")
	require.NoError(t, err)
	appended(t, s, closing(first))
	require.NoError(t, s.AddToRound(exam.RoundLine{Day: "2026-03-02", At: noon(), By: "Ann", Horse: b.ID, Act: exam.RoundPicked}))
	return a, b, first, second
}

func joining(apart bool, ids ...exam.HorseID) exam.Joining {
	return exam.Joining{Horses: ids, Apart: apart, By: "Ann", At: noon(), Why: "same chip"}
}

// listed are the horses of a store.
func listed(t *testing.T, s exam.Store) []exam.Found {
	t.Helper()
	list, err := s.Horses()
	require.NoError(t, err)
	return list
}

func checkJoined(t *testing.T, s exam.Store) {
	a, b, first, second := twice(t, s)
	before := listed(t, s)
	require.Len(t, before, 2)
	require.NoError(t, s.Join(joining(false, b.ID, a.ID)), "the direction does not count")

	list := listed(t, s)
	require.Len(t, list, 1)
	h := list[0].Horse
	assert.Equal(t, a.ID, h.ID, "the smallest leads")
	assert.ElementsMatch(t, []string{"kicks", "bites"}, h.Cautions)
	assert.Equal(t, []string{"swelling"}, h.Reactions)
	assert.Equal(t, "985112345678903", h.Chip)
	assert.Equal(t, "box 3", h.Place)
	assert.Equal(t, exam.BornYear, h.Birth.Precision, "one knows it, the other says nothing of it")
	require.Len(t, h.Differ, 1, "two names: somebody settles it")
	assert.Equal(t, "name", h.Differ[0].Field)
	assert.Equal(t, 2, list[0].Visits)
	assert.Equal(t, map[exam.HorseID]int{a.ID: before[0].Visits, b.ID: before[1].Visits}, list[0].Each, "how many of each record")
	assert.Nil(t, before[0].Each)
	assert.Equal(t, second.ID, list[0].Open)
	assert.True(t, list[0].LastAt.Equal(second.OpenedAt))
	assert.NotContains(t, []uint64{before[0].Stamp, before[1].Stamp}, list[0].Stamp)
	require.Len(t, h.Joined, 2)
	assert.True(t, h.Called("brackn") && h.Called("BRACKEN") && h.HasChip("985112345678903") && h.Matches("brackn"))

	for _, id := range []exam.HorseID{a.ID, b.ID} {
		one, err := s.Horse(id)
		require.NoError(t, err)
		assert.Equal(t, h, one)
		past, err := s.Past(id, 0)
		require.NoError(t, err)
		require.Len(t, past, 2)
		assert.Equal(t, []exam.VisitID{second.ID, first.ID}, []exam.VisitID{past[0].ID, past[1].ID})
		out, err := s.Outline(id, time.Time{})
		require.NoError(t, err)
		require.Len(t, out, 2)
		for _, v := range append(past, out...) {
			assert.Equal(t, a.ID, v.Horse.ID)
		}
		assert.ElementsMatch(t, h.Cautions, past[0].Horse.Cautions, "the open visit has the cautions of both")
	}
	struck, err := s.Struck(a.ID)
	require.NoError(t, err)
	require.Len(t, struck, 1)
	assert.Equal(t, a.ID, struck[0].Horse.ID)
	open, err := s.Unfinished()
	require.NoError(t, err)
	require.Len(t, open, 1)
	assert.Equal(t, a.ID, open[0].Horse.ID)
	lines, err := s.RoundLines("2026-03-02", "2026-03-02")
	require.NoError(t, err)
	assert.Equal(t, a.ID, lines[0].Horse)
	seen := 0
	_, err = s.Append(exam.Entry{Visit: second.ID, Kind: exam.EntryNote, At: noon(), By: "Ann", Note: "looked"}, func(st exam.ReadTx) error {
		past, err := st.Past()
		seen = len(past)
		return err
	})
	require.NoError(t, err)
	assert.Equal(t, 2, seen, "who asks for leave to write is shown the visits of both")

	require.NoError(t, s.Join(joining(true, b.ID, a.ID)))
	for _, want := range []exam.Horse{a, b} {
		back, err := s.Horse(want.ID)
		require.NoError(t, err)
		assert.Equal(t, want, back, "as it was")
	}
	past, err := s.Past(b.ID, 0)
	require.NoError(t, err)
	require.Len(t, past, 1)
	assert.Equal(t, []any{second.ID, b.ID}, []any{past[0].ID, past[0].Horse.ID})
	said, err := s.Joinings()
	require.NoError(t, err)
	assert.True(t, said.Told(a.ID, b.ID), "they are not proposed again")
	assert.Equal(t, []exam.Hash{said[0].Line}, said[1].Undoes)
}

func checkSavedJoined(t *testing.T, s exam.Store) {
	a, b, _, _ := twice(t, s)
	require.NoError(t, s.Join(joining(false, a.ID, b.ID)))
	h, err := s.Horse(b.ID)
	require.NoError(t, err)
	stale := h
	h.Revision++
	h.Name, h.Settles, h.Markings = "Bracken", []string{"name"}, "star"
	h.Cautions = append(h.Cautions, "rears")
	back, err := s.SaveHorse(h, "Eva", noon().Add(time.Hour))
	require.NoError(t, err)
	assert.Empty(t, back.Differ, "the name is settled")
	assert.Equal(t, []any{"Bracken", "star"}, []any{back.Name, back.Markings})
	assert.ElementsMatch(t, []string{"kicks", "bites", "rears"}, back.Cautions)
	stale.Revision++
	_, err = s.SaveHorse(stale, "Eva", noon())
	require.ErrorIs(t, err, exam.ErrStale)

	v := begun(t, s, exam.Horse{ID: b.ID}, noon().Add(2*time.Hour))
	assert.Equal(t, a.ID, v.Horse.ID, "a new visit is of the horse that leads")

	require.NoError(t, s.Join(joining(true, a.ID, b.ID)))
	for _, want := range []exam.Horse{a, b} {
		got, err := s.Horse(want.ID)
		require.NoError(t, err)
		assert.Equal(t, want.Name, got.Name, "each has its own name again")
		assert.Empty(t, got.Markings)
		assert.Equal(t, append(append([]string{}, want.Cautions...), "rears"), got.Cautions, "a caution is kept by both: nobody knows whose it is")
		got.Revision++
		got.Place = "box 7"
		_, err = s.SaveHorse(got, "Ann", noon().Add(3*time.Hour))
		require.NoError(t, err)
	}
	require.NoError(t, s.Join(joining(false, a.ID, b.ID)))
	again, err := s.Horse(a.ID)
	require.NoError(t, err)
	assert.Equal(t, []any{"Bracken", "star", "box 7"}, []any{again.Name, again.Markings, again.Place}, "what was said of the two counts again")
	assert.Empty(t, again.Differ)
}

func checkNotJoined(t *testing.T, s exam.Store) {
	a, b, _, _ := twice(t, s)
	var refused *notation.Refusal
	require.ErrorAs(t, s.Join(joining(false, a.ID, a.ID)), &refused)
	require.ErrorAs(t, s.Join(joining(false, a.ID)), &refused)
	nobody := joining(false, a.ID, b.ID)
	nobody.By = ""
	require.ErrorAs(t, s.Join(nobody), &refused)
	require.ErrorIs(t, s.Join(joining(false, a.ID, "01890000-0000-7000-8000-000000000000")), exam.ErrNotFound)
	require.NoError(t, s.Join(joining(false, a.ID, b.ID)))
	require.ErrorAs(t, s.Join(joining(false, b.ID, a.ID)), &refused, "they are one already")
}

func checkThird(t *testing.T, s exam.Store) {
	a, b, _, _ := twice(t, s)
	c := saved(t, s, "Third")
	require.NoError(t, s.Join(joining(true, c.ID, a.ID)), "nothing is joined, but somebody looked")
	require.NoError(t, s.Join(joining(false, a.ID, b.ID)))
	require.NoError(t, s.Join(joining(false, b.ID, c.ID)))
	require.Len(t, listed(t, s), 1)
	require.NoError(t, s.Join(joining(true, c.ID, a.ID, b.ID)))
	list := listed(t, s)
	require.Len(t, list, 2)
	for _, f := range list {
		assert.Equal(t, f.Horse.ID == c.ID, len(f.Horse.Joined) == 0)
	}
}
