package order_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/procedure/order"
	"loosebox/tui/screentest"
)

// A chip that is read into a line for a name is no name.
func TestANameHoldsALetter(t *testing.T) {
	check := order.Named("type your name")
	for _, text := range []string{"", " ", "001000000012345", "...", "12 34"} {
		assert.EqualError(t, check(text), "type your name", text)
	}
	for _, text := range []string{"Ann", "N", "Žofie", "乙", "Ann 2"} {
		assert.NoError(t, check(text), text)
	}
}

// So is everybody whom an order, a draw or a dose of somebody else names.
func TestEverybodyWhoIsNamedHasALetter(t *testing.T) {
	at, _, _ := bracken(t, screentest.Tetanus())
	blood := order.NewBloodSheet(at)
	blood.Put(order.For, "Coggins test")
	named := 0
	for _, f := range slices.Concat(order.NewDraft(at, screentest.Tetanus()).Fields(), blood.Fields(), order.NewOutside(at).Fields()) {
		switch f.Key {
		case order.GivenBy, order.Supervised, order.Witness, order.DrawnBy, order.VetName, order.OrderedBy:
			named++
			require.Error(t, f.Refused("036000291452"), f.Ask)
			require.NoError(t, f.Refused("Eva Lind"), f.Ask)
		}
	}
	assert.Equal(t, 7, named)
}
