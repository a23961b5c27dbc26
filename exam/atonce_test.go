package exam_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
)

// on is a visit of a laptop ("" for this one), open from an hour to another; 0 is not closed.
func on(id exam.VisitID, laptop string, from, to int) exam.Visit {
	day := time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)
	v := exam.Visit{ID: id, By: "Ann", OpenedAt: day.Add(time.Duration(from) * time.Hour), Elsewhere: laptop != ""}
	if to > 0 {
		at := day.Add(time.Duration(to) * time.Hour)
		v.ClosedAt = &at
	}
	v.Laptops = []exam.OnLaptop{{Laptop: laptop, Named: true, Own: laptop == "", Holds: true, By: []string{"Ann"}, From: v.OpenedAt, To: v.OpenedAt}}
	return v
}

// One visit of a horse is open on each laptop: an exam goes on with the own one alone, however
// many colleagues have the horse open.
func TestAnExamGoesOnWithTheOwnVisit(t *testing.T) {
	truck, barn, own, older, over := on("truck", "truck", 12, 0), on("barn", "barn", 11, 0), on("own", "", 10, 0), on("older", "", 9, 0), on("over", "", 8, 9)
	for _, c := range []struct {
		name   string
		visits []exam.Visit
		want   exam.VisitID
	}{
		{"none", nil, ""},
		{"closed", []exam.Visit{over}, ""},
		{"a colleague's", []exam.Visit{truck, barn, over}, ""},
		{"both", []exam.Visit{truck, own, over}, "own"},
		{"two own ones", []exam.Visit{own, older}, "own"},
	} {
		v, ok := exam.GoesOn(c.visits)
		assert.Equal(t, c.want, v.ID, c.name)
		assert.Equal(t, c.want != "", ok, c.name)
	}
	assert.Equal(t, "Ann has this horse open on truck since 2 Mar 12:00, last seen 12:00. Ann has this horse open on barn since 2 Mar 11:00, last seen 11:00.",
		exam.OpenElsewhere([]exam.Visit{truck, own, barn, over}, truck.OpenedAt))
	assert.Empty(t, exam.OpenElsewhere([]exam.Visit{own, over}, truck.OpenedAt))
}

// Two visits were open at once where neither was closed when the other began.
func TestVisitsThatWereOpenAtOnce(t *testing.T) {
	at := on("a", "", 10, 12)
	papers := on("papers", "", 10, 11)
	papers.Routine = exam.RoutinePapers
	voided := on("voided", "", 10, 11)
	voided.Struck = &exam.Struck{}
	for _, c := range []struct {
		name  string
		other exam.Visit
		want  bool
	}{
		{"itself", at, false},
		{"before", on("b", "", 8, 9), false},
		{"up to its beginning", on("b", "", 8, 10), false},
		{"from its end on", on("b", "", 12, 13), false},
		{"within", on("b", "", 11, 12), true},
		{"around", on("b", "", 9, 13), true},
		{"open since before", on("b", "", 9, 0), true},
		{"opened after", on("b", "", 13, 0), false},
		{"past doses", papers, false},
		{"voided", voided, false},
	} {
		assert.Equal(t, c.want, at.OpenWith(c.other), c.name)
		assert.Equal(t, c.want, c.other.OpenWith(at), c.name)
	}
}

func TestWhoHasAVisit(t *testing.T) {
	assert.Equal(t, "Ann on this laptop, 2 Mar 10:00 to 12:00", on("a", "", 10, 12).HeldBy(time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC)))
	assert.Equal(t, "Ann on truck, 2 Mar 10:00, not finished", on("a", "truck", 10, 0).HeldBy(time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC)))
	assert.Equal(t, "Ann on truck, 2 Mar 10:00 to 3 Mar 12:00", on("a", "truck", 10, 36).HeldBy(time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC)))
	taken := on("a", "truck", 10, 12)
	taken.Taken = []exam.Taken{{Signed: exam.Signed{By: "Eva"}}}
	assert.Equal(t, "Eva on truck, 2 Mar 10:00 to 12:00", taken.HeldBy(time.Date(2026, 3, 5, 0, 0, 0, 0, time.UTC)))
}
