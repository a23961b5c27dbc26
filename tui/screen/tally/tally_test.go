package tally_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/tui/layout"
	"loosebox/tui/nav"
	"loosebox/tui/screen/tally"
	"loosebox/tui/screentest"
)

// s says how the rate that was counted is worked out, at every size; before there is one it does nothing.
func TestSourceOfACount(t *testing.T) {
	for _, size := range screentest.Sizes() {
		deps, _ := screentest.Deps(t)
		d := screentest.New(t, deps, tally.New, nav.Address{Heard: "heart"}, size)
		d.Press("s")
		assert.False(t, d.Shows("Where it comes from"))
		d.Press("t", "4", "enter") // a rate read elsewhere
		d.Type("44")
		d.Press("enter")
		if !d.Shows("counted: 44") {
			d.Press("enter")
		}
		assert.True(t, d.Shows("counted: 44"), d.View())
		d.Press("s")
		assert.True(t, d.Reads("Where it comes from: Heart rate"))
		assert.True(t, d.Reads("typed as it was read elsewhere"))
		d.Press("esc")
		assert.False(t, d.Shows("Where it comes from"))
		d.Press("space", "space", "s")
		assert.True(t, d.Reads("A count is running"))
	}
}

// Heart and breath are one key apart; a running count is not thrown away by it, and esc
// leaves once nothing is begun.
func TestTheOtherCountIsOneKeyAway(t *testing.T) {
	deps, _ := screentest.Deps(t)
	d := screentest.New(t, deps, tally.New, nav.Address{Heard: "heart"}, layout.Size{W: 80, H: 24})
	require.True(t, d.Shows("Count · Heart rate"), d.View())
	d.Press("right")
	require.True(t, d.Shows("Count · Breathing rate"), d.View())
	d.Press("left", "space", "space", "left")
	assert.True(t, d.Reads("A count is running"), d.View())
	assert.True(t, d.Shows("Count · Heart rate"))
	d.Press("esc")
	assert.True(t, d.Reads("A count is running. esc again discards it"), d.View())
	d.Press("esc")
	assert.False(t, d.Left(), "back at the beginning of the count")
	d.Press("esc")
	assert.True(t, d.Left())
}
