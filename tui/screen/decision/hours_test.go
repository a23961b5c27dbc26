package decision_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
