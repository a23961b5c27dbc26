package order_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/procedure/order"
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
