package due_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/due"
)

// A recheck of an hour is due until that hour and overdue after it, stands in the
// order of the hours, and is met by a visit about that hour, not by one before.
func TestARecheckHasAnHour(t *testing.T) {
	table, err := due.BuiltIn()
	require.NoError(t, err)
	set := time.Date(2026, 3, 2, 16, 0, 0, 0, time.UTC)
	at := func(h, m int) *time.Time {
		x := time.Date(2026, 3, 2, h, m, 0, 0, time.UTC)
		return &x
	}
	line := func(what string, hour *time.Time) exam.Recheck {
		return exam.Recheck{RecheckLine: exam.RecheckLine{On: "2026-03-02", What: what, Time: hour}, Signed: exam.Signed{At: set, By: "Ann", Seq: 2}}
	}
	first := exam.Visit{ID: "a", OpenedAt: set.Add(-time.Hour), Rechecks: []exam.Recheck{line("any time", nil), line("gut", at(20, 0)), line("heart", at(17, 0))}}
	list := func(now time.Time, more ...exam.Visit) (out []string) {
		for _, r := range table.For(exam.Horse{ID: "h"}, append([]exam.Visit{first}, more...), now).Rechecks {
			out = append(out, string(r.Status)+" "+r.When(now)+" "+r.What)
		}
		return out
	}
	assert.Equal(t, []string{"overdue 2 Mar 2026 17:00 heart", "due 2 Mar 2026 20:00 gut", "due 2 Mar 2026 any time"}, list(*at(18, 0)))
	assert.Equal(t, []string{"due 2 Mar 2026 20:00 gut"}, list(*at(18, 0), exam.Visit{ID: "b", OpenedAt: *at(16, 50)}), "ten minutes before 17:00 meets it")
	assert.Equal(t, []string{"overdue 2 Mar 2026 20:00 gut"}, list(*at(20, 1), exam.Visit{ID: "b", OpenedAt: *at(18, 59)}), "an hour before 20:00 does not")
	assert.Empty(t, list(*at(20, 1), exam.Visit{ID: "b", OpenedAt: *at(19, 5)}))

	finding := exam.Finding{Step: "heart.rate", Value: exam.Value{Kind: exam.KindCount}, At: *at(16, 58), By: "Ann", Seq: 9}
	first.Findings = []exam.Finding{finding} // the visit stays open, and the look is written into it
	assert.Equal(t, []string{"due 2 Mar 2026 20:00 gut", "due 2 Mar 2026 any time"}, list(*at(18, 0)))
	finding.Why = "a slip"
	first.Findings = []exam.Finding{finding}
	assert.Len(t, list(*at(18, 0)), 3, "a slip that was put right is no look")
	finding.Why, finding.NotDone = "", "no time"
	first.Findings = []exam.Finding{finding}
	assert.Len(t, list(*at(18, 0)), 3, "nor is a step that was passed over")
}
