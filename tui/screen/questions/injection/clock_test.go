package injection_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"loosebox/exam"
	"loosebox/exam/examtest"
	"loosebox/exam/procedure"
	"loosebox/tui/screentest"
)

// The clock is set by a few minutes while the needle is in: the next questions say so, the dose is saved all the same with the
// time of the clock, and what is saved says that it is earlier than the needle.
func TestTheClockIsSetWhileTheNeedleIsIn(t *testing.T) {
	for name, c := range map[string]struct {
		set   time.Duration
		says  string
		ended bool
	}{
		"not set":                {},
		"back by half a minute":  {set: -30 * time.Second},
		"back by three minutes":  {set: -3 * time.Minute, says: "Since the needle went in this laptop's clock was set back by 3 min.", ended: true},
		"forward by ten minutes": {set: 10 * time.Minute, says: "Since the needle went in this laptop slept for 10 min, or its clock was set forward."},
	} {
		b := sit(t, wide(), screentest.Tetanus())
		clock := examtest.NewClock(screentest.Now())
		b.deps.Now, b.deps.Waits.Between = clock.Now, clock.Between
		b.vaccine()
		b.checks()
		b.Press("enter", "i")
		assert.False(t, b.Reads("Since the needle went in"), "%s: %s", name, b.View())
		clock.Set(c.set)
		b.Press("c")
		assert.Equal(t, c.says != "", b.Reads("Since the needle went in"), "%s: %s", name, b.View())
		assert.True(t, b.Reads(c.says), "%s: %s", name, b.View())
		b.Press("g")
		i := b.injection(1)
		assert.Equal(t, exam.InjectionGiven, i.State, name)
		assert.Equal(t, screentest.Now().Add(c.set), i.EndAt.UTC(), "%s: stored is the clock on the wall", name)
		assert.Equal(t, c.ended, b.Reads("This is before the needle went in: the clock was set back."), "%s: %s", name, b.View())
	}
}

// The needle went in before the program was started again under a clock that is behind.
func TestANeedleAheadOfTheClockIsSaid(t *testing.T) {
	b := sit(t, wide(), screentest.Tetanus())
	screentest.Lines(t, b.store, b.id, exam.InjectionLine{Phase: exam.InjectionReady, Order: screentest.Ordered()},
		exam.InjectionLine{Phase: exam.InjectionNeedleIn, Place: exam.NeedlePlace{Site: procedure.Neck, Side: exam.Left}})
	b.now = b.now.Add(-3 * time.Minute)
	b.open(1, wide())
	said := "By the record the needle went in at 11:05, but this laptop's clock said 11:02."
	assert.True(t, b.Reads(said), b.View())
	b.Press("i")
	assert.True(t, b.Shows("Draw the syringe back") && b.Reads(said), b.View())
	b.Press("c")
	assert.True(t, b.Shows("Dose as ordered") && b.Reads(said), b.View())
	b.Press("g")
	assert.True(t, b.Reads("This is before the needle went in: the clock was set back."), b.View())
}
