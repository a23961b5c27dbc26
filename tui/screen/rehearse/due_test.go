package rehearse_test

import (
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
	assert.True(t, d.Shows("due again: gum colour"), d.View())
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
	assert.Equal(t, "the bell rang", v.Struck.Why)
	assert.True(t, d.Shows("is dropped."), d.View())
	assert.False(t, d.Shows("drop Tarn of"), d.View())
	open, err := deps.Rehearsals.Unfinished()
	require.NoError(t, err)
	assert.Empty(t, open)
}
