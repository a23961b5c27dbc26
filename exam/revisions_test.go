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
