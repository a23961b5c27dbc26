package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam/roster"
)

// The laptop that asks at the hub needs no name where it is the only one; of several one is named.
func TestWhoAsksAtTheHub(t *testing.T) {
	t.Parallel()
	truck, barn := roster.Request{Name: "truck"}, roster.Request{Name: "barn"}
	for _, name := range []string{"", "Truck", " truck "} {
		q, err := askedAt([]roster.Request{truck}, name)
		require.NoError(t, err, name)
		assert.Equal(t, truck, q)
	}
	for name, said := range map[string]string{
		"":    "2 laptops ask at the hub: say which of truck, barn",
		"van": `no laptop called "van" asks at the hub; there are: truck, barn`,
	} {
		_, err := askedAt([]roster.Request{truck, barn}, name)
		require.EqualError(t, err, said)
	}
	_, err := askedAt(nil, "")
	assert.ErrorContains(t, err, "no laptop asks at the hub now")
}
