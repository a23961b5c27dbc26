package storage_test

import (
	"context"
	"errors"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/storage"
)

func linesOf(t *testing.T, r *storage.Record) []exam.Line {
	t.Helper()
	var out []exam.Line
	require.NoError(t, r.Lines(context.Background(), func(l exam.Line) error {
		out = append(out, l)
		return nil
	}))
	return out
}

func feed(lines []exam.Line) func(func(exam.Line) error) error {
	return func(take func(exam.Line) error) error {
		for _, l := range lines {
			if err := take(l); err != nil {
				return err
			}
		}
		return nil
	}
}

// A record with two horses, one with two revisions, and visits open, closed and
// corrected after the closing.
func twoHorses(t *testing.T) *storage.Record {
	t.Helper()
	r, _ := newRecord(t)
	for i, name := range []string{"Bracken", "Pip"} {
		h := saveHorse(t, r, name)
		if i == 0 {
			h.Revision++
			h.Place = "box 3"
			_, err := r.SaveHorse(h, "Ann", day())
			require.NoError(t, err)
		}
		for n := range 3 {
			at := day().AddDate(0, n, 0)
			v := begin(t, r, h.ID, at)
			list := appendAll(t, r, answers(v.ID, 5, at))
			if n < 2 {
				appendAll(t, r, []exam.Entry{closing(v.ID, at)})
			}
			if n == 1 {
				again := list[0]
				again.Corrects, again.Amend, again.At = list[0].Seq, &exam.Amendment{Why: "misread"}, at.AddDate(0, 0, 1)
				appendAll(t, r, []exam.Entry{again})
			}
		}
	}
	past, err := r.Recent(0)
	require.NoError(t, err)
	_, _, err = r.Strike(exam.Entry{Kind: exam.EntryStruck, Visit: past[0].ID, By: "Ann", At: day().AddDate(1, 0, 0), Amend: &exam.Amendment{Why: "wrong horse"}}, "")
	require.NoError(t, err)
	for _, act := range []exam.RoundAct{exam.RoundPicked, exam.RoundSeen} {
		require.NoError(t, r.AddToRound(exam.RoundLine{Day: "2026-03-04", At: day(), By: "Ann", Horse: past[0].Horse.ID, Act: act, Words: "owner rang"}))
	}
	return r
}

func TestAnAdoptedRecordIsTheSame(t *testing.T) {
	from := twoHorses(t)
	lines := linesOf(t, from)
	to, _ := newRecord(t)
	done, err := to.Adopt(context.Background(), feed(lines))
	require.NoError(t, err)
	assert.Equal(t, 2, done.Horses)
	assert.Equal(t, 6, done.Visits)
	assert.Equal(t, 2, done.Rounds)
	assert.Equal(t, lines, linesOf(t, to))
	a, err := from.Recent(0)
	require.NoError(t, err)
	b, err := to.Recent(0)
	require.NoError(t, err)
	assert.Equal(t, a, b, "the same visits, folded the same")
	report, err := to.Check(context.Background())
	require.NoError(t, err)
	assert.Empty(t, report.Broken)
	open, err := to.Unfinished()
	require.NoError(t, err)
	assert.Len(t, open, 1)
	struck := 0
	all, err := to.Horses()
	require.NoError(t, err)
	for _, h := range all {
		list, err := to.Struck(h.Horse.ID)
		require.NoError(t, err)
		struck += len(list)
	}
	assert.Equal(t, 1, struck, "what was struck stays struck")

	done, err = to.Adopt(context.Background(), feed(lines))
	require.NoError(t, err)
	assert.Equal(t, storage.Adopted{Known: len(lines)}, done, "a second time adds nothing")
}

// A visit that went on since the first export goes on here too.
func TestAnAdoptedVisitGoesOn(t *testing.T) {
	from := twoHorses(t)
	to, _ := newRecord(t)
	_, err := to.Adopt(context.Background(), feed(linesOf(t, from)))
	require.NoError(t, err)
	open, err := from.Unfinished()
	require.NoError(t, err)
	appendAll(t, from, []exam.Entry{closing(open[0].ID, day().AddDate(1, 0, 0))})
	done, err := to.Adopt(context.Background(), feed(linesOf(t, from)))
	require.NoError(t, err)
	assert.Equal(t, 1, done.Entries)
	v, err := to.Visit(open[0].ID)
	require.NoError(t, err)
	assert.True(t, v.Closed())
	report, err := to.Check(context.Background())
	require.NoError(t, err)
	assert.Empty(t, report.Broken)
}

// Two machines that planned the same day keep both plans, the other's behind one's own.
func TestRoundsOfOneDayAreJoined(t *testing.T) {
	from := twoHorses(t)
	to, _ := newRecord(t)
	_, err := to.Adopt(context.Background(), feed(linesOf(t, from)))
	require.NoError(t, err)
	own := exam.RoundLine{Day: "2026-03-04", At: day(), By: "Bea", Horse: horsesOf(t, to)[0], Act: exam.RoundLeftOut}
	theirs := own
	theirs.By = "Ann"
	require.NoError(t, to.AddToRound(own))
	require.NoError(t, from.AddToRound(theirs))
	done, err := to.Adopt(context.Background(), feed(linesOf(t, from)))
	require.NoError(t, err)
	assert.Equal(t, 1, done.Rounds)
	list, err := to.RoundLines("2026-03-04", "2026-03-04")
	require.NoError(t, err)
	require.Len(t, list, 4)
	assert.Equal(t, []string{"Bea", "Ann"}, []string{list[2].By, list[3].By})
	assert.Equal(t, 4, list[3].Seq)
}

func horsesOf(t *testing.T, r *storage.Record) (ids []exam.HorseID) {
	t.Helper()
	list, err := r.Horses()
	require.NoError(t, err)
	for _, h := range list {
		ids = append(ids, h.Horse.ID)
	}
	return ids
}

func TestWhatDoesNotFitIsNotAdopted(t *testing.T) {
	lines := linesOf(t, twoHorses(t))
	for name, spoil := range map[string]func([]exam.Line) []exam.Line{
		"a letter changed": func(l []exam.Line) []exam.Line {
			l[len(l)-1].Body = append([]byte(nil), l[len(l)-1].Body...)
			l[len(l)-1].Body[20] ^= 1
			return l
		},
		"a line missing":   func(l []exam.Line) []exam.Line { return append(l[:6:6], l[7:]...) },
		"two lines turned": func(l []exam.Line) []exam.Line { l[5], l[6] = l[6], l[5]; return l },
		"no horse":         func(l []exam.Line) []exam.Line { return l[3:] },
		"a revision gone":  func(l []exam.Line) []exam.Line { return append(l[:0:0], append(l[1:2:2], l[2:]...)...) },
	} {
		to, _ := newRecord(t)
		_, err := to.Adopt(context.Background(), feed(spoil(append([]exam.Line(nil), lines...))))
		require.Error(t, err, name)
		horses, err := to.Horses()
		require.NoError(t, err)
		assert.Empty(t, horses, "%s: nothing was written", name)
	}
	// A record in which the same visit has other lines.
	a, b := twoHorses(t), []exam.Line(nil)
	b = linesOf(t, a)
	last := slices.IndexFunc(b, func(l exam.Line) bool { return l.Kind == exam.LineRound }) - 1
	other := b[last]
	e, err := exam.Unseal(other.Body, other.Hash)
	require.NoError(t, err)
	e.By = "somebody else"
	body, err := exam.Seal(&e)
	require.NoError(t, err)
	b[last] = exam.Line{Kind: exam.LineEntry, Body: body, Hash: e.Hash}
	_, err = a.Adopt(context.Background(), feed(b))
	require.ErrorContains(t, err, "another line is in its place")

	broken := errors.New("stick gone")
	to, _ := newRecord(t)
	_, err = to.Adopt(context.Background(), func(take func(exam.Line) error) error {
		require.NoError(t, feed(lines[:8])(take))
		return broken
	})
	require.ErrorIs(t, err, broken)
	horses, err := to.Horses()
	require.NoError(t, err)
	assert.Empty(t, horses)
}
