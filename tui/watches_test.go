package tui_test

import (
	"errors"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/home"
	"loosebox/tui/screentest"
)

// yard is the home screen over a yard whose open visit has one injection given.
type yard struct {
	*screentest.Driver
	t     *testing.T
	deps  *nav.Deps
	store *examtest.Store
	id    exam.VisitID
	now   time.Time
	ticks []tea.Msg
	bells int
}

func newYard(t *testing.T) *yard {
	t.Helper()
	deps, store := screentest.Deps(t)
	screentest.Yard(t, store)
	y := &yard{t: t, deps: deps, store: store, id: screentest.Open(t, store).ID, now: screentest.Now()}
	deps.Now = func() time.Time { return y.now }
	deps.Bell = func() tea.Msg { y.bells++; return nil }
	deps.After = func(after time.Duration, msg tea.Msg) tea.Cmd {
		assert.Equal(t, time.Second, after)
		return func() tea.Msg { y.ticks = append(y.ticks, msg); return nil }
	}
	screentest.Decide(t, store, y.id, screentest.Tetanus())
	screentest.Given(t, store, y.id)
	return y
}

func (y *yard) watch(l exam.WatchLine) {
	l.Injection = 1
	screentest.Write(y.t, y.store, y.id, exam.Entry{Kind: exam.EntryWatch, At: y.now, Watch: &l})
}

func (y *yard) start(size layout.Size) {
	y.ticks = nil
	y.Driver = screentest.New(y.t, y.deps, home.New, nav.Address{}, size)
}

// tick lets a time pass and hands the last tick that was asked for to the program.
func (y *yard) tick(d time.Duration) {
	y.t.Helper()
	require.NotEmpty(y.t, y.ticks, "no tick was asked for")
	y.now = y.now.Add(d)
	last := y.ticks[len(y.ticks)-1]
	y.ticks = nil
	y.Send(last)
}

func TestNoWatchNoLineAndNoTick(t *testing.T) {
	y := newYard(t)
	y.start(layout.Size{W: 80, H: 24})
	assert.False(t, y.Shows("watch:"))
	assert.Empty(t, y.ticks)
}

func TestTheWatchRunsOnEveryScreenAndSurvivesARestart(t *testing.T) {
	y := newYard(t)
	y.start(layout.Size{W: 80, H: 24})
	y.watch(exam.WatchLine{Phase: exam.WatchBegun, Minutes: 20})
	y.Send(nav.WatchingMsg{})
	assert.True(t, y.Shows("observe: Bracken 20:00"), y.View())
	require.Len(t, y.ticks, 1, "one tick a second, and only one")
	y.tick(time.Second)
	assert.True(t, y.Shows("observe: Bracken 19:59"))
	require.Len(t, y.ticks, 1)

	y.now = y.now.Add(5 * time.Minute)
	for _, size := range screentest.Sizes() {
		y.start(size) // a new run reads it from the record
		assert.True(t, y.Shows("observe: Bracken 14:59"), y.View())
	}
	y.Press("n")
	assert.True(t, y.Shows("observe: Bracken"), "on the screen above, too")
}

func TestTheBellRingsAtTheEndOnce(t *testing.T) {
	y := newYard(t)
	y.watch(exam.WatchLine{Phase: exam.WatchBegun, Minutes: 1})
	y.start(layout.Size{W: 80, H: 24})
	y.tick(59 * time.Second)
	assert.Zero(t, y.bells)
	y.tick(time.Second)
	assert.Equal(t, 1, y.bells)
	assert.True(t, y.Shows("Bracken time is up: check the horse"), y.View())
	assert.Empty(t, y.ticks, "what is over needs no tick")
	y.watch(exam.WatchLine{Phase: exam.WatchQuiet})
	y.Send(nav.WatchingMsg{})
	assert.False(t, y.Shows("watch:"))
}

func TestASilentPracticeHearsNoBell(t *testing.T) {
	y := newYard(t)
	y.deps.Settings.Silent = true
	y.watch(exam.WatchLine{Phase: exam.WatchBegun, Minutes: 1})
	y.start(layout.Size{W: 80, H: 24})
	y.tick(time.Minute)
	assert.Zero(t, y.bells)
}

func TestATickOfAnEarlierRunDoesNothing(t *testing.T) {
	y := newYard(t)
	y.watch(exam.WatchLine{Phase: exam.WatchBegun, Minutes: 1})
	y.start(layout.Size{W: 80, H: 24})
	old := y.ticks[0]
	y.Send(nav.WatchingMsg{})
	y.ticks = nil
	y.Send(old)
	assert.Empty(t, y.ticks, "the two would run beside each other")
}

func TestTheWatchKeyOpensItAndIsFreeWithoutOne(t *testing.T) {
	y := newYard(t)
	y.start(layout.Size{W: 80, H: 24})
	y.Press("ctrl+w")
	assert.Empty(t, y.Opened())
	y.watch(exam.WatchLine{Phase: exam.WatchBegun, Minutes: 20})
	y.Send(nav.WatchingMsg{})
	y.Press("ctrl+w")
	assert.Equal(t, nav.Address{Screen: nav.Watch, Visit: y.id, Number: 1}, y.Last())
	y.Press("ctrl+w") // the only one again, in its own place
	y.Press("esc")
	assert.True(t, y.Shows("Bracken"), "one esc leads back to where it was opened")
	assert.False(t, y.Shows("stub watch"))
}

func TestAClockSetBackMakesNoWatchLonger(t *testing.T) {
	y := newYard(t)
	y.watch(exam.WatchLine{Phase: exam.WatchBegun, Minutes: 20})
	y.now = y.now.Add(-2 * time.Hour)
	y.start(layout.Size{W: 80, H: 24})
	assert.True(t, y.Shows("observe: Bracken 20:00"), y.View())
}

func TestWatchesThatCannotBeReadSaySo(t *testing.T) {
	y := newYard(t)
	y.start(layout.Size{W: 80, H: 24})
	y.store.FailWith(errors.New("the disk is gone"))
	y.Send(nav.WatchingMsg{})
	assert.True(t, y.Reads("the running observations cannot be read: the disk is gone"), y.View())
}

// The clock is set while the observation runs: the line goes by the run's own time, says that another clock is looked at,
// and rings for it once.
func TestTheLineGoesByTheRunsOwnTime(t *testing.T) {
	for name, set := range map[string]time.Duration{"forward": time.Hour, "back": -time.Hour} {
		y := newYard(t)
		c := examtest.NewClock(screentest.Now())
		y.deps.Now, y.deps.Waits.Between = c.Now, c.Between
		y.watch(exam.WatchLine{Phase: exam.WatchBegun, Minutes: 20})
		y.start(layout.Size{W: 80, H: 24})
		second := func() {
			last := y.ticks[len(y.ticks)-1]
			y.ticks = nil
			y.Send(last)
		}
		c.Pass(5 * time.Minute)
		second()
		assert.True(t, y.Shows("observe: Bracken 15:00  "), "%s: %s", name, y.View())
		assert.Zero(t, y.bells, name)
		c.Set(set)
		second()
		assert.True(t, y.Shows("observe: Bracken 15:00 at most: go by another clock"), "%s: %s", name, y.View())
		assert.Equal(t, 1, y.bells, name)
		second()
		assert.Equal(t, 1, y.bells, name)
		c.Pass(15 * time.Minute)
		second()
		assert.True(t, y.Shows("Bracken time is up: check the horse"), "%s: %s", name, y.View())
		assert.Equal(t, 2, y.bells, name)
		assert.Empty(t, y.ticks, name)
	}
}
