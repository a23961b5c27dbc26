package settle_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/settle"
)

// Two exams of one horse that are open on two laptops are to be settled; on one laptop, of two
// horses, or where one of them is closed, they are not.
func TestTwoExamsOfOneHorse(t *testing.T) {
	at := time.Date(2026, 3, 2, 10, 0, 0, 0, time.UTC)
	visit := func(horse exam.HorseID, by, laptop string) exam.Visit {
		v := exam.Visit{ID: exam.VisitID(by + laptop), Horse: exam.Horse{ID: horse, Name: "Bracken"}, By: by, OpenedAt: at, Elsewhere: laptop != ""}
		v.Laptops = []exam.OnLaptop{{Laptop: laptop, Own: laptop == "", Holds: true}}
		return v
	}
	own, truck := visit("a", "Eva", ""), visit("a", "Ann", "truck")
	list := settle.AtOnce([]exam.Visit{visit("b", "Cal", "barn"), own, truck})
	require.Len(t, list, 1)
	assert.Equal(t, settle.Item{
		Kind: exam.UnsettledAtOnce, Visit: own.ID, Horse: "a", Name: "Bracken", At: at, Seqs: []int{},
		Text: "2 exams of this horse are open: Eva on this laptop, 2 Mar 10:00, not finished; Ann on truck, 2 Mar 10:00, not finished. Each of them stands. Ask each other what was given.",
	}, list[0])
	assert.NotEmpty(t, exam.UnsettledAtOnce.String())
	assert.Len(t, settle.AtOnce([]exam.Visit{visit("a", "Cal", "barn"), truck}), 1, "both of colleagues")
	assert.Empty(t, settle.AtOnce([]exam.Visit{own, visit("a", "Bo", "")}), "on one laptop")
	assert.Empty(t, settle.AtOnce([]exam.Visit{truck, visit("a", "Bo", "truck")}))
	assert.Empty(t, settle.AtOnce([]exam.Visit{own, visit("b", "Ann", "truck")}))
	truck.ClosedAt = &at
	assert.Empty(t, settle.AtOnce([]exam.Visit{own, truck}))
}
