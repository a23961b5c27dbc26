package compare_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/compare"
	"loosebox/exam/judge"
	"loosebox/exam/notation"
	"loosebox/exam/steps"
	"loosebox/ranges"
)

// Two answers that nobody has settled both stand in the comparison, in its JSON and in the trend; neither is the number
// that a change is reckoned from.
func TestAnswersThatAreNotSettledBothStand(t *testing.T) {
	table, err := ranges.BuiltIn()
	require.NoError(t, err)
	j := judge.New(table, steps.Table())
	visit := func(day int, rates ...float64) exam.Visit {
		at := time.Date(2026, 3, day, 9, 0, 0, 0, time.UTC)
		all := []exam.Entry{{Kind: exam.EntryOpened, By: "Ann", Opening: &exam.Opening{Horse: exam.Horse{ID: "h", Name: "Bracken", Kind: exam.AnimalHorse}}}}
		for i, rate := range rates {
			e := exam.Entry{Kind: exam.EntryFinding, By: []string{"Ann", "Ben"}[i], Step: "heart.rate", Value: &exam.Value{Kind: exam.KindCount, Number: &notation.Quantity{Value: rate, Unit: notation.PerMinute}}}
			if i > 0 {
				e.Unseen = []int{2}
			}
			all = append(all, e)
		}
		var prev exam.Hash
		for i := range all {
			all[i].Visit, all[i].Seq, all[i].Prev, all[i].At = exam.VisitID(at.Format("v2")), i+1, prev, at
			require.NoError(t, exam.Seal(&all[i]))
			prev = all[i].Hash
		}
		v, err := exam.Fold(all)
		require.NoError(t, err)
		return v
	}
	visits := []exam.Visit{visit(4, 40), visit(3, 36, 64), visit(2, 36)}
	d := compare.Visits(visits, nil, j, steps.Table())
	require.Len(t, d.Rows, 1)
	cell := d.Rows[0].Cells[1]
	assert.Equal(t, "36 or 64", cell.Text)
	assert.Nil(t, cell.Number)
	assert.Equal(t, ranges.LevelTell, cell.Level, "the worst counts")
	require.NotNil(t, d.Rows[0].Change.By)
	assert.InDelta(t, 4, *d.Rows[0].Change.By, 1e-9, "against the last that is settled")
	line := d.Document().Rows[0]
	assert.Equal(t, "36 or 64", line.Values[1])
	assert.Equal(t, []string{"", "36 /min by Ann, or 64 /min by Ben", ""}, line.Unsettled)

	step, _ := steps.Table().ByID("heart.rate")
	var got []float64
	var marked []bool
	for _, p := range compare.Trend(j, step, exam.NoSite, notation.PerMinute, visits) {
		got, marked = append(got, p.Value), append(marked, p.Unsettled)
	}
	assert.Equal(t, []float64{36, 36, 64, 40}, got)
	assert.Equal(t, []bool{false, true, true, false}, marked)

	newest := compare.Visits(visits[1:], nil, j, steps.Table())
	assert.Equal(t, "not settled", newest.Rows[0].Change.Means)
	assert.Nil(t, newest.Rows[0].Change.By)
}
