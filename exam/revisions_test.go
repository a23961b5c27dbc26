package exam_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// Two revisions of a horse that did not know of each other: different fields both stand,
// cautions and reactions are united, one field in two ways is a dispute
// (shared/facts/sharing.md, section 3).
func TestRevisionsOfTwoLaptopsAreUnited(t *testing.T) {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	line := func(by string, h exam.Horse, unseen ...int) exam.HorseLine {
		h.ID, h.Kind = "h", exam.AnimalHorse
		return exam.HorseLine{Horse: h, By: by, At: at, Unseen: unseen}
	}
	first := line("Ann", exam.Horse{Name: "Bracken", Owner: "Lund", Cautions: []string{"kicks", "needle shy"}})

	h, err := exam.FoldHorse([]exam.HorseLine{
		first,
		line("Ann", exam.Horse{Name: "Bracken", Owner: "Lund", Place: "box 1", Cautions: []string{"needle shy", "bites"}}),
		line("Eva", exam.Horse{Name: "Bracken", Owner: "Berg", Cautions: []string{"kicks", "needle shy", "rears"}}, 2),
	})
	require.NoError(t, err)
	assert.Equal(t, "Berg", h.Owner, "one changed it")
	assert.Equal(t, "box 1", h.Place, "the other this")
	assert.Equal(t, []string{"needle shy", "bites", "rears"}, h.Cautions, "both added one; one knew of what it took away")
	assert.Empty(t, h.Differ)
	assert.Equal(t, 3, h.Revision)

	disputed := []exam.HorseLine{
		first,
		line("Ann", exam.Horse{Name: "Bracken", Owner: "Lund", Place: "box 1", Cautions: []string{"kicks", "needle shy"}}),
		line("Eva", exam.Horse{Name: "Bracken", Owner: "Lund", Place: "box 9", Cautions: []string{"kicks", "needle shy"}}, 2),
	}
	h, err = exam.FoldHorse(disputed)
	require.NoError(t, err)
	require.Equal(t, []exam.HorseDispute{{Field: "place", Said: []exam.HorseValue{
		{Text: "box 1", Signed: exam.Signed{At: at, By: "Ann", Seq: 2}}, {Text: "box 9", Signed: exam.Signed{At: at, By: "Eva", Seq: 3}},
	}}}, h.Differ)
	assert.Equal(t, "box 9", h.Place)

	other := h
	other.Markings = "star"
	h, err = exam.FoldHorse(append(disputed, exam.HorseLine{Horse: other, By: "Ann", At: at}))
	require.NoError(t, err)
	require.Len(t, h.Differ, 1, "a change of something else settles nothing")
	assert.Equal(t, "star", h.Markings)

	settled := append(disputed, exam.HorseLine{Horse: other, By: "Ann", At: at, Settles: []string{"place"}})
	h, err = exam.FoldHorse(settled)
	require.NoError(t, err)
	assert.Empty(t, h.Differ)
	assert.Equal(t, "box 9", h.Place)
}

// Of two records that were joined, one says nothing of sex and birth: that contradicts nobody, and what the other says stands.
// In one record "not known" is a correction, and stands.
func TestNotKnownContradictsNoOtherRecord(t *testing.T) {
	at := time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)
	born := exam.Birth{At: time.Date(2017, 4, 1, 0, 0, 0, 0, time.UTC), Precision: exam.BornDay}
	known := exam.HorseLine{Horse: exam.Horse{ID: "a", Name: "Bracken", Kind: exam.AnimalHorse, Sex: exam.Mare, Birth: born}, By: "Ann", At: at}
	unknown := exam.HorseLine{Horse: exam.Horse{ID: "b", Name: "Bracken", Kind: exam.AnimalHorse, Sex: exam.SexUnknown, Birth: exam.Birth{Precision: exam.BornUnknown}}, By: "Eva", At: at}
	for _, lines := range [][]exam.HorseLine{{known, unknown}, {unknown, known}} {
		h, err := exam.FoldHorse(lines)
		require.NoError(t, err)
		assert.Equal(t, exam.Mare, h.Sex)
		assert.Equal(t, born, h.Birth)
		assert.Empty(t, h.Differ)
	}
	unknown.Horse.ID = "a"
	h, err := exam.FoldHorse([]exam.HorseLine{known, unknown})
	require.NoError(t, err)
	assert.Equal(t, exam.SexUnknown, h.Sex)
	gelding := known
	gelding.Horse.ID, gelding.Horse.Sex = "b", exam.Gelding
	h, err = exam.FoldHorse([]exam.HorseLine{known, gelding})
	require.NoError(t, err)
	require.Len(t, h.Differ, 1, "two that are known are settled by a person")
}
