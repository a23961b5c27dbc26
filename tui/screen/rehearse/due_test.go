package rehearse_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	simulated "loosebox/exam/rehearse"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/rehearse"
	"loosebox/tui/screentest"
)

// The step that went wrong is the first choice when it is due, and what begins is its drill; somebody else is offered
// nothing of it.
func TestTheDueStepIsChosenFirst(t *testing.T) {
	deps, _ := screentest.Deps(t)
	at := screentest.Now().AddDate(0, 0, -3)
	screentest.Rehearse(t, deps, "tarn", 1, at, simulated.Trainee{By: "Ann Bell", To: "Dr. Olga Sommer", Slips: simulated.Slips{Wrong: map[exam.Key]string{{Step: "gum.colour"}: "brick"}}})
	d := screentest.New(t, deps, rehearse.New, nav.Address{Screen: nav.Rehearse}, layout.Size{W: 80, H: 24})
	assert.True(t, d.Shows("due again: gum color"), d.View())
	d.Press("ctrl+s")
	open, err := deps.Rehearsals.Unfinished()
	require.NoError(t, err)
	require.Len(t, open, 1, d.View())
	assert.Equal(t, simulated.DrillName("gum.colour"), open[0].Routine)

	deps, _ = screentest.Deps(t)
	screentest.Rehearse(t, deps, "tarn", 1, at, simulated.Trainee{By: "Bo Lind", To: "Dr. Olga Sommer", Slips: simulated.Slips{Wrong: map[exam.Key]string{{Step: "gum.colour"}: "brick"}}})
	d = screentest.New(t, deps, rehearse.New, nav.Address{Screen: nav.Rehearse}, layout.Size{W: 80, H: 24})
	assert.False(t, d.Shows("due again"), d.View())
}

// A rehearsal that was left open is dropped on the screen, never without a reason; it counts nowhere and is not offered again.
func TestAnOpenRehearsalIsDropped(t *testing.T) {
	deps, _ := screentest.Deps(t)
	id := screentest.Rehearse(t, deps, "tarn", 1, screentest.Now().Add(-time.Hour), simulated.Trainee{By: "Ann Bell", Slips: simulated.Slips{Unfinished: 3}})
	d := screentest.New(t, deps, rehearse.New, nav.Address{Screen: nav.Rehearse}, layout.Size{W: 80, H: 24})
	d.Press("up", "up", "up", "up", "up", "up", "right", "right")
	assert.True(t, d.Shows("drop Tarn of"), d.View())
	assert.True(t, d.Shows("[drop it]"), d.View())
	d.Press("ctrl+s")
	v, err := deps.Rehearsals.Visit(id)
	require.NoError(t, err)
	assert.True(t, v.Stands(), "not without a reason: %s", d.View())
	d.Type("the bell rang")
	d.Press("ctrl+s")
	v, err = deps.Rehearsals.Visit(id)
	require.NoError(t, err)
	require.NotNil(t, v.Struck, d.View())
	assert.EqualValues(t, "the bell rang", v.Struck.Why)
	assert.True(t, d.Shows("is dropped."), d.View())
	assert.False(t, d.Shows("drop Tarn of"), d.View())
	open, err := deps.Rehearsals.Unfinished()
	require.NoError(t, err)
	assert.Empty(t, open)
}

// The drill of the order: each choice is kept at once and the list comes again; the clock stands against three minutes, and
// the marks are of the order alone.
func TestTheDrillOfTheOrderOnTheScreens(t *testing.T) {
	s := newStage(t, usual())
	s.begin("tarn", 2, simulated.OrderDrill, simulated.Modes{})
	r, ok := simulated.Drill(simulated.OrderDrill, s.deps.Steps, s.deps.Routines)
	require.True(t, ok)
	for _, ask := range r.Asks {
		require.True(t, s.reads("What do you examine next?"), s.view())
		assert.True(t, s.reads("of 3:00"), s.view())
		step, _ := s.deps.Steps.ByID(ask.Step)
		name := step.Name
		if len(ask.Sites) == 1 && ask.Sites[0] != exam.NoSite {
			name += " " + ask.Sites[0].String()
		}
		s.write(strings.ToLower(name))
		s.pass(1)
		require.True(t, s.reads("What do you examine next?"), s.view())
		s.write(strings.ToLower(name)) // a second time it is not taken
		assert.True(t, s.reads("You have been there."), s.view())
	}
	v, err := s.deps.Rehearsals.Recent(1)
	require.NoError(t, err)
	require.Len(t, v, 1)
	for _, ask := range r.Asks {
		for _, k := range ask.Keys() {
			f, ok := v[0].Finding(k)
			require.True(t, ok, "%v", k)
			assert.Equal(t, exam.ReasonNotApplicable, f.NotDone)
		}
	}
	s.pass(200)
	assert.True(t, s.reads("time is up"), s.view())
}
