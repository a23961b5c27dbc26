package watch_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/procedure/script"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/questions"
	"loosebox/tui/screentest"
)

type bench struct {
	*screentest.Driver
	store *examtest.Store
	id    exam.VisitID
	now   time.Time
}

func sit(t *testing.T, size layout.Size, after time.Duration) *bench {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	b := &bench{store: store, id: screentest.Open(t, store).ID, now: screentest.Now().Add(after)}
	deps.Now = func() time.Time { return b.now }
	screentest.Decide(t, store, b.id, screentest.Tetanus())
	screentest.Given(t, store, b.id)
	screentest.Write(t, store, b.id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	b.Driver = screentest.New(t, deps, questions.Of(script.Watch), nav.Address{Screen: nav.Watch, Visit: b.id, Number: 1}, size)
	return b
}

// What the hub calls "not started" is begun here, with the minutes of the practice.
func TestAWatchThatNobodyBeganIsBegunHere(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	b := &bench{store: store, id: screentest.Open(t, store).ID}
	deps.Settings.WatchMinutes = 25
	screentest.Decide(t, store, b.id, screentest.Tetanus())
	screentest.Given(t, store, b.id)
	b.Driver = screentest.New(t, deps, questions.Of(script.Watch), nav.Address{Screen: nav.Watch, Visit: b.id, Number: 1}, wide())
	assert.True(t, b.Reads("Injection 1, Vaccine T, given"), b.View())
	assert.True(t, b.Shows("minutes: 25"))
	b.Press("enter")
	w := b.state(t)
	assert.True(t, w.Running())
	assert.Equal(t, 25, w.Minutes)
	assert.False(t, b.Shows("type why the horse is not observed"), b.View())
}

func (b *bench) state(t *testing.T) exam.Watch {
	t.Helper()
	v, err := b.store.Visit(b.id)
	require.NoError(t, err)
	require.Len(t, v.Watches, 1)
	return v.Watches[0]
}

func wide() layout.Size { return layout.Size{W: 80, H: 24} }

func TestItDoesNotEndBeforeItsTime(t *testing.T) {
	b := sit(t, wide(), 5*time.Minute)
	assert.True(t, b.Shows("15:00 left"), b.View())
	b.Press("n")
	assert.True(t, b.Reads("the observation is not over"), b.View())
	assert.True(t, b.state(t).Running())
	b.now = b.now.Add(6 * time.Second)
	b.Send(nav.ClockMsg{Now: b.now})
	assert.True(t, b.Shows("14:54 left"))
}

func TestOverAndNothingSeen(t *testing.T) {
	b := sit(t, wide(), 20*time.Minute)
	assert.True(t, b.Shows("Time is up since 11:25"), b.View())
	b.Press("enter")
	assert.True(t, b.state(t).Running(), "enter says nothing of the horse")
	b.Press("n")
	assert.Equal(t, exam.WatchQuiet, b.state(t).State)
	assert.False(t, b.Shows("observe: Bracken"), "the line of the frame is gone")
	b.Press("enter")
	assert.True(t, b.Left())
}

func TestLeavingBeforeTheEndAsksWhy(t *testing.T) {
	b := sit(t, wide(), 5*time.Minute)
	b.Press("x", "ctrl+s", "enter")
	assert.True(t, b.Reads("Press one of"), b.View())
	assert.True(t, b.state(t).Running())
	b.Press("esc")
	assert.True(t, b.Shows("15:00 left"), "esc goes back to the clock")
	b.Press("x", "w")
	b.Type("owner watches, was told what to look for")
	b.Press("enter", "enter")
	w := b.state(t)
	assert.Equal(t, exam.WatchLeftEarly, w.State)
	assert.EqualValues(t, "owner watches, was told what to look for", w.Why)
}

func TestLeavingForAUsualReasonIsOneKey(t *testing.T) {
	b := sit(t, wide(), 5*time.Minute)
	b.Press("x", "v")
	assert.Equal(t, exam.WatchLeftEarly, b.state(t).State)
	assert.Equal(t, exam.VetObserves, b.state(t).Why)
}

// Nobody has to watch, but that nobody does is said, by whom and why.
func TestAWatchIsDeclinedWithItsReason(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	b := &bench{store: store, id: screentest.Open(t, store).ID}
	screentest.Decide(t, store, b.id, screentest.Tetanus())
	screentest.Given(t, store, b.id)
	b.Driver = screentest.New(t, deps, questions.Of(script.Watch), nav.Address{Screen: nav.Watch, Visit: b.id, Number: 1}, wide())
	assert.True(t, b.Shows(">         minutes: _"), b.View())
	assert.True(t, b.Shows("x decline"), "the way to decline it is in sight, where no minutes are set")
	b.Press("x", "enter")
	assert.True(t, b.Reads("The horse is not observed after the injection. Why?"), b.View())
	v, err := store.Visit(b.id)
	require.NoError(t, err)
	assert.Empty(t, v.Watches)
	b.Press("o")
	w := b.state(t)
	assert.Equal(t, exam.WatchDeclined, w.State)
	assert.Equal(t, exam.OwnerObserves, w.Why)
	assert.NotEmpty(t, w.By)
	assert.True(t, b.Reads("Saved: declined"), b.View())
}

func TestEscLeavesItRunning(t *testing.T) {
	b := sit(t, wide(), 5*time.Minute)
	b.Press("esc")
	assert.True(t, b.Left())
	assert.True(t, b.state(t).Running())
}

func TestSignsOfDangerAreOneKeyAway(t *testing.T) {
	b := sit(t, wide(), 5*time.Minute)
	b.Press("ctrl+d")
	assert.Equal(t, nav.Address{Screen: nav.Dangers, Visit: b.id, Number: 1, From: nav.Watch}, b.Last())
}

func TestGoldenWatch(t *testing.T) {
	screentest.Goldens(t, "watch", func(t *testing.T, size layout.Size) *screentest.Driver { return sit(t, size, 5*time.Minute).Driver })
	screentest.Goldens(t, "watch-over", func(t *testing.T, size layout.Size) *screentest.Driver { return sit(t, size, 21*time.Minute).Driver })
	sit(t, wide(), 0).Squeeze()
}

// clocked is an observation of 20 minutes that began at 11:05 in this run, under a clock that can be set.
func clocked(t *testing.T, size layout.Size) (*bench, *examtest.Clock) {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	c := examtest.NewClock(screentest.Now())
	deps.Now, deps.Waits.Between = c.Now, c.Between
	b := &bench{store: store, id: screentest.Open(t, store).ID}
	screentest.Decide(t, store, b.id, screentest.Tetanus())
	screentest.Given(t, store, b.id)
	screentest.Write(t, store, b.id, exam.Entry{Kind: exam.EntryWatch, Watch: &exam.WatchLine{Injection: 1, Phase: exam.WatchBegun, Minutes: 20}})
	b.Driver = screentest.New(t, deps, questions.Of(script.Watch), nav.Address{Screen: nav.Watch, Visit: b.id, Number: 1}, size)
	return b, c
}

// tick is one second of the observations.
func (b *bench) tick(c *examtest.Clock) { b.Send(nav.ClockMsg{Now: c.Now()}) }

// A clock that is set forward ends nothing: the minutes go on by the run's own time, and a person who looked at another
// watch may say that they are over.
func TestAClockSetForwardEndsNothing(t *testing.T) {
	b, c := clocked(t, wide())
	c.Pass(5 * time.Minute)
	c.Set(time.Hour)
	b.tick(c)
	assert.True(t, b.Shows("15:00 left"), b.View())
	assert.True(t, b.Shows("of 20 minutes, until 12:25"), b.View())
	assert.True(t, b.Reads("Since the observation began this laptop slept for 1 h, or its clock was set forward."), b.View())
	b.Press("n")
	assert.True(t, b.Reads("Are the 20 minutes over by another clock?"), b.View())
	assert.True(t, b.state(t).Running(), "n alone says nothing of the other clock")
	b.Press("enter", "n")
	assert.True(t, b.state(t).Running(), "and n twice neither")
	b.Press("g")
	assert.True(t, b.Shows("15:00 left"), b.View())
	b.Press("n", "y")
	assert.Equal(t, exam.WatchQuiet, b.state(t).State)
}

// After it the minutes end by themselves, and nobody is asked about another clock.
func TestTheMinutesEndByTheRunsOwnTime(t *testing.T) {
	for name, set := range map[string]time.Duration{"forward": time.Hour, "back": -time.Hour} {
		b, c := clocked(t, wide())
		c.Set(set)
		c.Pass(20 * time.Minute)
		b.tick(c)
		assert.True(t, b.Shows("Time is up since"), "%s: %s", name, b.View())
		assert.True(t, b.Reads("Since the observation began this laptop"), "%s: %s", name, b.View())
		b.Press("n")
		assert.Equal(t, exam.WatchQuiet, b.state(t).State, "%s: the gate goes by the same time", name)
	}
}

// A clock that was set between two runs is told where the record is ahead of it.
func TestAnObservationAheadOfTheClockAsks(t *testing.T) {
	b := sit(t, wide(), -2*time.Hour)
	assert.True(t, b.Reads("By the record the observation began at 11:05, but this laptop's clock said 09:05."), b.View())
	b.Press("n", "y")
	assert.Equal(t, exam.WatchQuiet, b.state(t).State)
}

// What began long ago by this clock is over only if a person says so.
func TestAnObservationOfLongAgoAsks(t *testing.T) {
	b := sit(t, wide(), 48*time.Hour)
	assert.True(t, b.Shows("Time is up since 2 Mar 2026 11:25"), b.View())
	assert.True(t, b.Reads("The observation began 2 Mar 2026 11:05, and this laptop's clock says 4 Mar 2026 11:05."), b.View())
	b.Press("n")
	assert.True(t, b.state(t).Running())
	b.Press("y")
	assert.Equal(t, exam.WatchQuiet, b.state(t).State)
}

func TestGoldenClockSet(t *testing.T) {
	screentest.Goldens(t, "watch-clock-set", func(t *testing.T, size layout.Size) *screentest.Driver {
		b, c := clocked(t, size)
		c.Pass(5 * time.Minute)
		c.Set(23 * time.Minute)
		b.tick(c)
		return b.Driver
	})
	screentest.Goldens(t, "watch-another-clock", func(t *testing.T, size layout.Size) *screentest.Driver {
		b, c := clocked(t, size)
		c.Set(-time.Hour)
		b.tick(c)
		b.Press("n")
		return b.Driver
	})
}

// In a list of one answer there is nothing to choose from: the foot has enter alone.
func TestOneAnswerIsNotChosenFrom(t *testing.T) {
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	d := screentest.New(t, deps, questions.Of(script.Watch), nav.Address{Screen: nav.Watch, Visit: screentest.Open(t, store).ID}, wide())
	require.True(t, d.Shows("No observation runs in this visit"), d.View())
	assert.True(t, d.Shows("enter choose"), d.View())
	assert.False(t, d.Shows("1-9 choose"), d.View())
	assert.False(t, d.Shows("up/down"), d.View())
}
