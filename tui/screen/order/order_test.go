package order_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/order"
	"loosebox/tui/screentest"
)

func open(t *testing.T, size layout.Size, keep func(exam.Routine) error) (*screentest.Driver, *nav.Deps) {
	t.Helper()
	deps, _ := screentest.Deps(t)
	deps.Settings.Person, deps.KeepRoutine = "Ann Bell", keep
	return screentest.New(t, deps, order.New, nav.Address{Routine: "full-exam"}, size), deps
}

func headings(r exam.Routine) []string {
	var out []string
	for _, g := range r.Groups() {
		out = append(out, g[0].Heading)
	}
	return out
}

// TestAWholeGroupIsMovedAndSaved: the left side is put before the tail; every step of it goes along, and what is saved is
// offered first from then on.
func TestAWholeGroupIsMovedAndSaved(t *testing.T) {
	var kept exam.Routine
	d, deps := open(t, layout.Size{W: 80, H: 24}, func(r exam.Routine) error { kept = r; return nil })
	d.Press("ctrl+s")
	assert.Empty(t, kept.Name, "nothing was moved yet")
	d.Press("down", "down", "down", "enter", "up", "enter", "ctrl+s")
	assert.Equal(t, "full-exam-ann-bell", kept.Name)
	assert.Equal(t, []string{"at the door", "from a distance", "left side", "at the tail", "round behind"}, headings(kept)[:5])
	assert.ElementsMatch(t, deps.Routines[0].Asks, kept.Asks, "nothing is lost and nothing is asked twice")
	assert.Equal(t, "full-exam-ann-bell", deps.Settings.Routine)
	assert.True(t, d.Shows("Saved as Full exam, Ann Bell"), d.View())
	assert.Equal(t, kept, deps.Routines[len(deps.Routines)-1], "the next exam knows it without a new start")
}

func TestAnUnsoundOrderIsSaidAndAnUnsavedOneIsAskedAbout(t *testing.T) {
	d, _ := open(t, layout.Size{W: 80, H: 24}, func(exam.Routine) error { return errors.New("the disk is full") })
	d.Press("down", "enter", "down", "enter")
	assert.True(t, d.Shows("Count breathing from outside"), d.View())
	d.Press("ctrl+s")
	assert.True(t, d.Shows("NOT saved"), d.View())
	d.Press("esc")
	require.False(t, d.Left(), "asked once")
	d.Press("esc")
	assert.True(t, d.Left())
}

// TestHeldArrowsMoveAGroupToTheEndAndNoFurther: a held key repeats, and the order stays whole.
func TestHeldArrowsMoveAGroupToTheEndAndNoFurther(t *testing.T) {
	var kept exam.Routine
	d, deps := open(t, layout.Size{W: 60, H: 20}, func(r exam.Routine) error { kept = r; return nil })
	d.Press("enter")
	for range 60 {
		d.Press("down")
	}
	d.Press("enter", "ctrl+s")
	list := headings(kept)
	assert.Equal(t, "at the door", list[len(list)-1])
	assert.ElementsMatch(t, deps.Routines[0].Asks, kept.Asks)
	d.Squeeze()
}

func TestOrderIsDrawnInEverySize(t *testing.T) {
	screentest.Goldens(t, "order", func(t *testing.T, size layout.Size) *screentest.Driver {
		d, _ := open(t, size, func(exam.Routine) error { return nil })
		d.Press("down", "enter", "down")
		return d
	})
}
