package after_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/nav"
	"loosebox/tui/screen/after"
	"loosebox/tui/screentest"
)

// eastern is a place five hours behind UTC.
func eastern() *time.Location { return time.FixedZone("", -5*60*60) }

// A time that is typed is said back before it is stored, and stored with its offset.
func TestAnHourIsSaidBackAndStoredWithItsOffset(t *testing.T) {
	for typed, want := range map[string]struct{ echo, stored, on string }{
		"1h":            {"today 12:05, in 1 h", "2026-03-02T12:05:00-05:00", "2026-03-02 12:05"},
		"90 min":        {"today 12:35, in 1 h 30 min", "2026-03-02T12:35:00-05:00", "2026-03-02 12:35"},
		"20:00":         {"today 20:00, in 8 h 55 min", "2026-03-02T20:00:00-05:00", "2026-03-02 20:00"},
		"tonight":       {"today 20:00, in 8 h 55 min", "2026-03-02T20:00:00-05:00", "2026-03-02 20:00"},
		"tonight 2":     {"tomorrow 02:00, in 14 h 55 min", "2026-03-03T02:00:00-05:00", "2026-03-03 02:00"},
		"tomorrow 8:00": {"tomorrow 08:00, in 20 h 55 min", "2026-03-03T08:00:00-05:00", "2026-03-03 08:00"},
		"Mon":           {"Monday 9 Mar 2026, in 7 days", "", "2026-03-09"},
	} {
		deps, store := screentest.Deps(t)
		screentest.Yard(t, store)
		id := screentest.Open(t, store).ID
		deps.Now = func() time.Time { return time.Date(2026, 3, 2, 11, 5, 0, 0, eastern()) }
		d := screentest.New(t, deps, after.New, nav.Address{Visit: id}, wide())
		to(t, d, "set a follow-up")
		d.Press("enter")
		d.Type(typed)
		assert.True(t, d.Reads(want.echo), "%s: %s", typed, d.View())
		d.Press("enter")
		d.Type("heart rate")
		v, err := store.Visit(id)
		require.NoError(t, err)
		require.Empty(t, v.Rechecks, "said before it is stored")
		d.Press("enter", "enter")
		v, err = store.Visit(id)
		require.NoError(t, err)
		require.Len(t, v.Rechecks, 1, "%s: %s", typed, d.View())
		r := v.Rechecks[0].RecheckLine
		assert.Equal(t, want.on, r.ISO(), typed)
		if want.stored == "" {
			assert.Nil(t, r.Time, typed)
			continue
		}
		require.NotNil(t, r.Time, typed)
		assert.Equal(t, want.stored, r.Time.Format(time.RFC3339), typed)
		to(t, d, r.When(deps.Now()))
		assert.Contains(t, here(d), "heart rate", "the hub shows its hour")
	}
}

func TestAnHourThatIsOverOrTwoThingsIsNotStored(t *testing.T) {
	for _, typed := range []string{"10:00", "8", "5m", "0h", "25:00", "tonight 12:00", "soon", "2026-03-02 11:05"} {
		d, store, v := hub(t, wide())
		to(t, d, "set a follow-up")
		d.Press("enter")
		d.Type(typed)
		d.Press("enter", "ctrl+s")
		now, err := store.Visit(v.ID)
		require.NoError(t, err)
		assert.Empty(t, now.Rechecks, typed)
	}
}

// What is looked at can be put right although the hour is over by then.
func TestWhatIsLookedAtIsPutRightAfterTheHour(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	id := screentest.Open(t, store).ID
	hour := screentest.Now().Add(-5 * time.Minute)
	screentest.Add(t, store, id, exam.Entry{Kind: exam.EntryNote, Recheck: &exam.RecheckLine{On: "2026-03-02", Time: &hour, What: "left eye"}})
	d := screentest.New(t, deps, after.New, nav.Address{Visit: id}, wide())
	to(t, d, "left eye")
	d.Press("enter", "enter", "ctrl+u")
	d.Type("right eye")
	d.Press("ctrl+s")
	v, err := store.Visit(id)
	require.NoError(t, err)
	require.Len(t, v.Rechecks, 1)
	assert.Equal(t, "right eye", v.Rechecks[0].What, d.View())
	assert.True(t, v.Rechecks[0].Time.Equal(hour))
}
