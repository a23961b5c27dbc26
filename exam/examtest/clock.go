package examtest

import (
	"sync"
	"time"
)

// Clock is a clock for tests that can be set, and a laptop that can sleep. A time.Time made by hand has no monotonic
// reading; so each reading of this clock has a location of its own (UTC), by which Between knows it again.
type Clock struct {
	mu   sync.Mutex
	wall time.Time
	own  time.Duration
	read map[*time.Location]time.Duration
}

// NewClock says at, which is in UTC.
func NewClock(at time.Time) *Clock {
	return &Clock{wall: at, read: map[*time.Location]time.Duration{}}
}

// Now reads it.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	here := time.FixedZone("UTC", 0)
	c.read[here] = c.own
	return c.wall.In(here)
}

// Pass lets time pass.
func (c *Clock) Pass(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.wall, c.own = c.wall.Add(d), c.own+d
}

// Set sets the clock on the wall by so much, below zero back. A sleep of the laptop looks the same, forward.
func (c *Clock) Set(by time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.wall = c.wall.Add(by)
}

// Between is what exam.BothClocks is for a real clock. Of a time that it did not read it knows the wall alone.
func (c *Clock) Between(from, to time.Time) (own, wall time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	wall = to.Sub(from)
	began, read := c.read[from.Location()]
	now, also := c.read[to.Location()]
	if !read || !also {
		return wall, wall
	}
	return now - began, wall
}
