package episode_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/desk"
	"loosebox/exam/notation"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/again"
	"loosebox/tui/screen/episode"
	"loosebox/tui/screentest"
)

// yard has three checks of Thistle, half an hour apart; the last set the next for 11:05.
func yard(t *testing.T) (*nav.Deps, exam.Horse) {
	t.Helper()
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	at := screentest.Now().Add(-90 * time.Minute)
	for i, heart := range []float64{64, 60, 48} {
		begun := at.Add(time.Duration(i) * 30 * time.Minute)
		next, err := notation.ReadMoment("30 min", begun)
		require.NoError(t, err)
		o, err := deps.Again(h.ID, desk.NextCheck{Next: next, Reason: "colic"}, "Ann Bell", begun)
		require.NoError(t, err)
		require.NoError(t, o.Partly)
		screentest.Number(t, store, o.Visit, "heart.rate", exam.NoSite, heart, notation.PerMinute)
		screentest.Number(t, store, o.Visit, "temp.rectal", exam.NoSite, 38.1, notation.Celsius)
		_, err = deps.Close(o.Visit.ID, desk.Ending{Without: "the vet stands here"}, "Ann Bell", func() time.Time { return begun.Add(5 * time.Minute) })
		require.NoError(t, err)
	}
	return deps, h
}

func TestGoldens(t *testing.T) {
	screentest.Goldens(t, "episode", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, h := yard(t)
		return screentest.New(t, deps, episode.New, nav.Address{Horse: h.ID}, size)
	})
	screentest.Goldens(t, "again", func(t *testing.T, size layout.Size) *screentest.Driver {
		deps, h := yard(t)
		return screentest.New(t, deps, again.New, nav.Address{Horse: h.ID}, size)
	})
}

func TestTheChecksStandSideBySide(t *testing.T) {
	deps, h := yard(t)
	d := screentest.New(t, deps, episode.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Reads("[DUE 11:05] The next check is due now."), d.View())
	assert.Contains(t, d.Row("Heart rate /min"), "64")
	assert.Regexp(t, "64.*60.*48", d.Row("Heart rate /min"))
	assert.True(t, d.Reads("60 -> 48 /min, closer to usual"), d.View())
	d.Press("l")
	assert.Equal(t, nav.Address{Screen: nav.Again, Horse: h.ID}, d.Last())
}

func TestNoEpisode(t *testing.T) {
	deps, store := screentest.Deps(t)
	h := screentest.Yard(t, store)["Thistle"]
	d := screentest.New(t, deps, episode.New, nav.Address{Horse: h.ID}, layout.Size{W: 60, H: 20})
	assert.True(t, d.Reads("No check was repeated within hours"), d.View())
	d.Press("c", "up", "pgdown")
	assert.Empty(t, d.Opened())
}

// One enter begins the check, with the interval of the checks before it.
func TestAgainIsOneEnter(t *testing.T) {
	deps, h := yard(t)
	d := screentest.New(t, deps, again.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("30 min"), d.View())
	d.Press("enter")
	require.Equal(t, nav.Exam, d.Last().Screen)
	v, err := deps.Store.Visit(d.Last().Visit)
	require.NoError(t, err)
	assert.Equal(t, "five-minute-check", v.Routine)
	assert.Equal(t, "colic", v.Reason)
	require.Len(t, v.Rechecks, 1)
	assert.Equal(t, "11:35", v.Rechecks[0].Time.Format("15:04"))
	assert.Equal(t, "Ann Bell", v.By)
}

// Another time, no time, and a text that is not a time; a held key does not open a second exam.
func TestTheNextCheckIsTyped(t *testing.T) {
	for typed, want := range map[string]string{"1h": "12:05", "20:00": "20:00", "none": ""} {
		deps, h := yard(t)
		d := screentest.New(t, deps, again.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
		d.Press("up", "up")
		d.Type(typed)
		d.Press("ctrl+s")
		require.Equal(t, nav.Exam, d.Last().Screen, typed)
		v, err := deps.Store.Visit(d.Last().Visit)
		require.NoError(t, err)
		if want == "" {
			assert.Empty(t, v.Rechecks)
			continue
		}
		assert.Equal(t, want, v.Rechecks[0].Time.Format("15:04"))
	}
	deps, h := yard(t)
	d := screentest.New(t, deps, again.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	d.Press("up", "up")
	d.Type("3d")
	d.Press("ctrl+s")
	assert.True(t, d.Reads("type the time"), d.View())
	d.Press("ctrl+u")
	d.Type("1h")
	d.Press("ctrl+s")
	first := d.Last().Visit
	other := screentest.New(t, deps, again.New, nav.Address{Horse: h.ID}, layout.Size{W: 80, H: 24})
	other.Press("enter")
	assert.True(t, other.Reads("is not finished: finish it first"), other.View())
	assert.Empty(t, other.Opened())
	past, err := deps.Store.Past(h.ID, 0)
	require.NoError(t, err)
	assert.Equal(t, first, past[0].ID)
}

func TestHostileText(t *testing.T) {
	for _, text := range screentest.Hostile() {
		for _, size := range screentest.Sizes() {
			deps, store := screentest.Deps(t)
			store.KeepAsGiven()
			h, err := store.SaveHorse(exam.Horse{Revision: 1, Name: text, Kind: exam.AnimalHorse, Cautions: []string{text}}, "Ann", screentest.Now())
			require.NoError(t, err)
			o, err := deps.Again(h.ID, desk.NextCheck{Reason: text}, text, screentest.Now())
			require.NoError(t, err)
			_ = o
			screentest.New(t, deps, episode.New, nav.Address{Horse: h.ID}, size).Squeeze()
			screentest.New(t, deps, again.New, nav.Address{Horse: h.ID}, size).Squeeze()
		}
	}
}
