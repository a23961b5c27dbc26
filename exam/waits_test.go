package exam_test

import (
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/examtest"
)

// observed is an observation of 20 minutes that began at 11:05.
func observed() exam.Watch {
	return exam.Watch{Minutes: 20, State: exam.WatchBegun, Signed: exam.Signed{At: time.Date(2026, 3, 2, 11, 5, 0, 0, time.UTC)}}
}

// stand is how an observation stands after what happened to the clock, in a run that saw it begin.
func stand(happened func(*examtest.Clock)) (exam.Watched, time.Time) {
	x := observed()
	c := examtest.NewClock(x.At)
	waits := &exam.Waits{Between: c.Between}
	waits.Watch("v", x, c.Now())
	happened(c)
	now := c.Now()
	return waits.Watch("v", x, now), now
}

func TestAnObservationIsMeasuredByTheRunsOwnTime(t *testing.T) {
	for name, c := range map[string]struct {
		pass, set, then time.Duration
		left            time.Duration
		ends            string
		asks            bool
		says            string
	}{
		"nothing was set":               {pass: 8 * time.Minute, left: 12 * time.Minute, ends: "11:25"},
		"it is over":                    {pass: 25 * time.Minute, ends: "11:25"},
		"set forward by a minute":       {pass: 8 * time.Minute, set: time.Minute, left: 12 * time.Minute, ends: "11:25"},
		"set back by a minute":          {pass: 8 * time.Minute, set: -time.Minute, left: 12 * time.Minute, ends: "11:25"},
		"set forward":                   {pass: 8 * time.Minute, set: time.Hour, left: 12 * time.Minute, ends: "12:25", asks: true, says: "Since the observation began this laptop slept for 1 h, or its clock was set forward."},
		"set back":                      {pass: 8 * time.Minute, set: -time.Hour, left: 12 * time.Minute, ends: "10:25", asks: true, says: "Since the observation began this laptop's clock was set back by 1 h."},
		"set back by 20 years":          {pass: 8 * time.Minute, set: -20 * 365 * 24 * time.Hour, left: 12 * time.Minute, ends: "11:25", asks: true, says: "Since the observation began this laptop's clock was set back by 7300 days."},
		"asleep for 23 minutes":         {pass: 8 * time.Minute, set: 23 * time.Minute, left: 12 * time.Minute, ends: "11:48", asks: true, says: "Since the observation began this laptop slept for 23 min, or its clock was set forward."},
		"set forward, and waited":       {pass: time.Minute, set: time.Hour, then: 19 * time.Minute, ends: "11:25", says: "Since the observation began this laptop slept for 1 h, or its clock was set forward."},
		"over, and then asleep":         {pass: 25 * time.Minute, set: 8 * time.Hour, ends: "11:25", says: "Since the observation began this laptop slept for 8 h, or its clock was set forward."},
		"set back, and waited":          {pass: time.Minute, set: -time.Hour, then: 19 * time.Minute, ends: "10:25", says: "Since the observation began this laptop's clock was set back by 1 h."},
		"set forward, a second to wait": {pass: time.Minute, set: time.Hour, then: 19*time.Minute - time.Second, left: time.Second, ends: "12:25", asks: true, says: "Since the observation began this laptop slept for 1 h, or its clock was set forward."},
	} {
		got, _ := stand(func(clock *examtest.Clock) {
			clock.Pass(c.pass)
			clock.Set(c.set)
			clock.Pass(c.then)
		})
		assert.Equal(t, c.left, got.Left, name)
		assert.Equal(t, c.ends, got.Ends.Format("15:04"), name)
		assert.Equal(t, c.asks, got.Asks, name)
		assert.Equal(t, c.says, got.Doubt, name)
	}
}

// A run that was begun later knows only what the clock says.
func TestARestartKnowsOnlyTheClockOnTheWall(t *testing.T) {
	for name, c := range map[string]struct {
		after time.Duration
		left  time.Duration
		ends  string
		asks  bool
		says  string
	}{
		"five minutes later":          {after: 5 * time.Minute, left: 15 * time.Minute, ends: "2 Mar 11:25"},
		"an hour later":               {after: time.Hour, ends: "2 Mar 11:25"},
		"12 hours after its end":      {after: 20*time.Minute + 12*time.Hour, ends: "2 Mar 11:25"},
		"the next day":                {after: 24 * time.Hour, ends: "2 Mar 11:25", asks: true, says: "The observation began 2 Mar 2026 11:05, and this laptop's clock says 3 Mar 2026 11:05."},
		"a minute before it began":    {after: -time.Minute, left: 20 * time.Minute, ends: "2 Mar 11:25"},
		"two hours before it began":   {after: -2 * time.Hour, left: 20 * time.Minute, ends: "2 Mar 09:25", asks: true, says: "By the record the observation began at 11:05, but this laptop's clock said 09:05."},
		"the day before it was begun": {after: -24 * time.Hour, left: 20 * time.Minute, ends: "1 Mar 11:25", asks: true, says: "By the record the observation began at 2 Mar 2026 11:05, but this laptop's clock said 11:05."},
	} {
		x := observed()
		for run, waits := range map[string]*exam.Waits{"a run": {}, "one look": nil} {
			got := waits.Watch("v", x, x.At.Add(c.after))
			assert.Equal(t, c.left, got.Left, "%s, %s", name, run)
			assert.Equal(t, c.ends, got.Ends.Format("2 Jan 15:04"), "%s, %s", name, run)
			assert.Equal(t, c.asks, got.Asks, "%s, %s", name, run)
			assert.Equal(t, c.says, got.Doubt, "%s, %s", name, run)
		}
	}
}

// An observation that lies ahead of the clock runs its whole minutes from when it was first seen, and not until the clock
// has come up with it.
func TestAnObservationAheadOfTheClockRunsFromTheFirstLook(t *testing.T) {
	x := observed()
	c := examtest.NewClock(x.At.Add(-2 * time.Hour))
	waits := &exam.Waits{Between: c.Between}
	waits.Watch("v", x, c.Now())
	c.Pass(15 * time.Minute)
	assert.Equal(t, 5*time.Minute, waits.Watch("v", x, c.Now()).Left)
	c.Pass(5 * time.Minute)
	over := waits.Watch("v", x, c.Now())
	assert.Zero(t, over.Left)
	assert.False(t, over.Asks, "its minutes have passed since")
	assert.NotEmpty(t, over.Doubt)
}

// A real clock: what is stored has no monotonic reading, and none of the two clocks of a run is set here.
func TestRealReadingsAgree(t *testing.T) {
	waits, began := &exam.Waits{}, time.Now()
	x := exam.Watch{Minutes: 20, State: exam.WatchBegun, Signed: exam.Signed{At: began.Round(0)}}
	waits.Watch("v", x, began)
	got := waits.Watch("v", x, began.Add(8*time.Minute))
	assert.Equal(t, 12*time.Minute, got.Left)
	assert.Empty(t, got.Doubt)
}

func TestWaitsAreSafeForSeveralGoroutines(t *testing.T) {
	c, waits, x := examtest.NewClock(observed().At), &exam.Waits{}, observed()
	waits.Between = c.Between
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 50 {
				waits.Watch("v", x, c.Now())
				c.Pass(time.Second)
			}
		})
	}
	all.Wait()
	assert.Equal(t, 20*time.Minute-400*time.Second, waits.Watch("v", x, c.Now()).Left, "the first look came before any second passed")
}
