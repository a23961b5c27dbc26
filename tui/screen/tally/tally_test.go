package tally_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

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
		d.Press("e", "4", "enter") // a rate read elsewhere
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
