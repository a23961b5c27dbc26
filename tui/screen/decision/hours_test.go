package decision_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/screen/decision"
	"loosebox/tui/screentest"
)

// The end of a decision and its follow-up are times as people type them: each is
// said back on its line, and stored with its offset.
func TestHoursOfADecisionAreSaidBackAndStored(t *testing.T) {
	eastern := time.FixedZone("", -5*60*60)
	for typed, want := range map[string]struct{ echo, stored string }{
		"1h":      {"today 12:05, in 1 h", "2026-03-02T12:05:00-05:00"},
		"20:00":   {"today 20:00, in 8 h 55 min", "2026-03-02T20:00:00-05:00"},
		"tonight": {"today 20:00, in 8 h 55 min", "2026-03-02T20:00:00-05:00"},
	} {
		deps, store := screentest.Deps(t)
		screentest.Yard(t, store)
		id := screentest.Open(t, store).ID
		screentest.HandOff(t, store, id)
		deps.Now = func() time.Time { return time.Date(2026, 3, 2, 11, 5, 0, 0, eastern) }
		d := screentest.New(t, deps, decision.New, nav.Address{Visit: id}, wide())
		d.Type("Draw blood.")
		d.Press("enter", "1", "enter", "enter", "space", "enter")
		require.Contains(t, d.Row("valid until"), ">", d.View())
		d.Type(typed)
		assert.True(t, d.Reads(want.echo), "%s: %s", typed, d.View())
		d.Press("enter", "space", "enter")
		require.Contains(t, d.Row("follow-up on"), ">", d.View())
		d.Type(typed)
		assert.True(t, d.Reads(want.echo), "%s: %s", typed, d.View())
		d.Press("enter")
		d.Type("heart rate")
		d.Press("ctrl+s")
		require.True(t, d.Left(), d.View())
		v := visit(t, deps, id)
		require.Len(t, v.Decisions, 1)
		assert.Equal(t, want.stored, v.Decisions[0].Until.Format(time.RFC3339), typed)
		require.Len(t, v.Rechecks, 1)
		assert.Equal(t, want.stored, v.Rechecks[0].Time.Format(time.RFC3339), typed)
	}
}

// A correction in another time zone shows the end by the clock there; what is left as it is stays the same moment, and an
// hour that is typed is one of that clock.
func TestTheEndOfADecisionInAnotherZone(t *testing.T) {
	for typed, want := range map[string]string{"": "2026-03-02T14:05:00Z", "13:00": "2026-03-02T18:00:00Z"} {
		until := screentest.Now().Add(3 * time.Hour)
		_, deps, id := open(t, wide(), 0, handedOff)
		stored := screentest.Add(t, deps.Store, id, exam.Entry{Kind: exam.EntryDecision, Decision: &exam.Decision{
			Words: "Draw blood.", Vet: "Dr Vale", How: exam.ByTelephone, Ruling: exam.GoAhead, Until: &until, Covers: []exam.CoveredProcedure{screentest.Blood()},
		}})
		deps.Now = func() time.Time { return screentest.Now().In(time.FixedZone("", -5*60*60)) }
		d := screentest.New(t, deps, decision.New, nav.Address{Visit: id, Number: stored.Seq}, wide())
		assert.True(t, d.Reads("what Ann Bell recorded at 05:50"), d.View())
		assert.Contains(t, d.Row("valid until"), "09:05")
		d.Press("ctrl+s") // to the line that is missing
		d.Type("his name")
		d.Press("up", "up", "up", "up")
		require.Contains(t, d.Row("valid until"), ">", d.View())
		if typed != "" {
			d.Press("ctrl+u")
			d.Type(typed)
		}
		d.Press("ctrl+s")
		require.True(t, d.Left(), d.View())
		v := visit(t, deps, id)
		require.Len(t, v.Decisions, 2)
		assert.Equal(t, want, v.Decisions[1].Until.UTC().Format(time.RFC3339))
	}
}
