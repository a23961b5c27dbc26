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
	list := settle.AtOnce([]exam.Visit{visit("b", "Cal", "barn"), own, truck}, at)
	require.Len(t, list, 1)
	assert.Equal(t, settle.Matter{
		Kind: exam.UnsettledAtOnce, Visit: own.ID, Horse: "a", Name: "Bracken", At: at, Seqs: []int{}, Visits: []exam.VisitID{own.ID, truck.ID},
		Text: "2 exams of this horse are open: Eva on this laptop, 2 Mar 10:00, not finished; Ann on truck, 2 Mar 10:00, not finished. Each of them stands. Ask each other what was given.",
	}, list[0])
	assert.NotEmpty(t, exam.UnsettledAtOnce.String())
	assert.Len(t, settle.AtOnce([]exam.Visit{visit("a", "Cal", "barn"), truck}, at), 1, "both of colleagues")
	assert.Empty(t, settle.AtOnce([]exam.Visit{own, visit("a", "Bo", "")}, at), "on one laptop")
	assert.Empty(t, settle.AtOnce([]exam.Visit{truck, visit("a", "Bo", "truck")}, at))
	assert.Empty(t, settle.AtOnce([]exam.Visit{own, visit("b", "Ann", "truck")}, at))
	end := at.Add(time.Hour)
	truck.ClosedAt = &end
	assert.Empty(t, settle.AtOnce([]exam.Visit{own, truck}, at), "one goes on")
	own.ClosedAt = &end
	list = settle.AtOnce([]exam.Visit{own, truck}, at)
	require.Len(t, list, 1)
	assert.Equal(t, exam.UnsettledCompare, list[0].Kind)
	assert.Equal(t, "2 exams of this horse were open at once: Eva on this laptop, 2 Mar 10:00 to 11:00; Ann on truck, 2 Mar 10:00 to 11:00. Each of them stands. Look at both: what was found, and what was given.", list[0].Text)
	assert.NotEmpty(t, exam.UnsettledCompare.String())
	assert.Empty(t, settle.AtOnce([]exam.Visit{own, visit("b", "Ann", "truck")}, at))
}

// Somebody looks at both exams once: a line in each says so. A third one that comes later is looked at too.
func TestBothExamsAreLookedAtOnce(t *testing.T) {
	at := time.Date(2026, 3, 2, 10, 0, 0, 0, time.UTC)
	end := at.Add(time.Hour)
	visit := func(by, laptop string) exam.Visit {
		return exam.Visit{
			ID: exam.VisitID(by), Horse: exam.Horse{ID: "a"}, By: by, OpenedAt: at, ClosedAt: &end,
			Laptops: []exam.OnLaptop{{Laptop: laptop, Holds: true}},
		}
	}
	ann, ben, cal := visit("Ann", "clinic"), visit("Ben", "truck"), visit("Cal", "van")
	apart := func(exam.VisitID, exam.VisitID) bool { return true }
	assert.Equal(t, []exam.VisitID{"Ann", "Ben"}, exam.AtOnce([]exam.Visit{ann, ben}, apart))
	assert.Empty(t, exam.AtOnce([]exam.Visit{ann, ben}, func(exam.VisitID, exam.VisitID) bool { return false }), "of one laptop")
	notes := settle.Compared(ann, []exam.Visit{ben}, "Dora", "gave nothing twice", end)
	require.Len(t, notes, 2)
	assert.Equal(t, exam.Entry{Visit: "Ann", Kind: exam.EntryNote, At: end, By: "Dora", Note: "gave nothing twice", Reason: "gave nothing twice", Settles: []int{1}}, notes[0])
	ann.Settled, ben.Settled = notes[0].Settles, notes[1].Settles
	assert.Empty(t, exam.AtOnce([]exam.Visit{ann, ben}, apart))
	assert.Empty(t, settle.AtOnce([]exam.Visit{ann, ben}, at))
	assert.Empty(t, settle.Compared(ann, []exam.Visit{ben}, "Dora", "again", end))
	assert.Len(t, exam.AtOnce([]exam.Visit{ann, ben, cal}, apart), 3)
	require.Len(t, settle.AtOnce([]exam.Visit{ann, ben, cal}, at), 1)
	notes = settle.Compared(ben, []exam.Visit{ann, cal}, "Dora", "all three", end)
	require.Len(t, notes, 1)
	assert.Equal(t, exam.VisitID("Cal"), notes[0].Visit)
	cal.ClosedAt = nil
	assert.Empty(t, settle.Compared(ann, []exam.Visit{cal}, "Dora", "too early", end), "one goes on")
	late := visit("Eva", "barn")
	late.OpenedAt, late.ClosedAt = end, nil
	assert.Empty(t, exam.AtOnce([]exam.Visit{late, ann, ben}, apart))
}
