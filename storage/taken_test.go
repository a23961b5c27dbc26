package storage_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// The laptop that opened a visit puts the needles in; another one does from where it took
// the visit over, and what the first gave without knowing of that still counts.
func TestOneLaptopPutsTheNeedlesIn(t *testing.T) {
	first, _ := newRecord(t)
	second, _ := newRecord(t)
	v := begin(t, first, saveHorse(t, first, "Bracken").ID, day())
	decision := exam.Entry{Visit: v.ID, At: day(), By: "Ann", Kind: exam.EntryDecision, Decision: &exam.Decision{
		Words: "go", Vet: "Dr Vale", How: exam.Here, Ruling: exam.GoAhead, Covers: []exam.CoveredProcedure{{Kind: exam.Drawing, For: "a count"}},
	}}
	_, err := first.Append(decision)
	require.NoError(t, err)
	_, err = second.Adopt(context.Background(), feed(segmentsOf(t, first)))
	require.NoError(t, err)

	draw := exam.Entry{Visit: v.ID, At: day(), By: "Eva", Kind: exam.EntryDraw, Draw: &exam.DrawLine{Number: 1, Phase: exam.DrawReady, Order: &exam.DrawOrder{For: "a count", Decision: 2}}}
	here, err := second.Visit(v.ID)
	require.NoError(t, err)
	assert.True(t, here.Elsewhere)
	_, err = second.Append(draw)
	require.ErrorIs(t, err, exam.ErrRefused)
	require.ErrorContains(t, err, "Another laptop puts the needles in here: Ann opened this visit there")

	_, err = second.Append(exam.Entry{Visit: v.ID, At: day(), By: "Eva", Kind: exam.EntryTaken, Taken: &exam.TakenLine{From: "Ann"}})
	require.NoError(t, err)
	_, err = second.Append(draw)
	require.NoError(t, err)
	here, err = second.Visit(v.ID)
	require.NoError(t, err)
	assert.False(t, here.Elsewhere)
	require.Len(t, here.Taken, 1)

	// The first does not know yet, and draws too.
	draw.By = "Ann"
	_, err = first.Append(draw)
	require.NoError(t, err)
	_, err = first.Adopt(context.Background(), feed(segmentsOf(t, second)))
	require.NoError(t, err)
	there, err := first.Visit(v.ID)
	require.NoError(t, err)
	assert.True(t, there.Elsewhere, "it knows now")
	require.Len(t, there.Draws, 2, "both happened")
	assert.Equal(t, []int{2}, there.Draws[0].Unaware)
	unsettled, err := first.Unsettled()
	require.NoError(t, err)
	require.Len(t, unsettled, 1)
	assert.Equal(t, exam.UnsettledNeedles, unsettled[0].Unsettled()[0].Kind)
	draw.Draw.Number = 3
	_, err = first.Append(draw)
	require.ErrorIs(t, err, exam.ErrRefused)
}
