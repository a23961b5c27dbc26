package notation_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/notation"
)

func TestTheEndsOfARangeAreEquallyFine(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		decimals  int
		want      string
	}{
		{37, 38.5, 1, "37.0-38.5"}, {28, 44, 1, "28-44"}, {36.5, 38.3, 1, "36.5-38.3"}, {1.04, 2, 1, "1-2"}, {1.25, 2, 2, "1.25-2.00"}, {math.NaN(), 2, 1, "no number-2"},
	} {
		assert.Equal(t, c.want, notation.Between(c.low, c.high, c.decimals))
	}
	low, high := 37.0, 52.0
	assert.Equal(t, "to 52", notation.Ends(nil, &high, 1))
	assert.Equal(t, "from 37", notation.Ends(&low, nil, 1))
	assert.Equal(t, "37-52", notation.Ends(&low, &high, 1))
	assert.Empty(t, notation.Ends(nil, nil, 1))
}
