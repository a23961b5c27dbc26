package volume_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// Who works in pounds reads pounds first in a working; what it is worked out with is the weight as it was found.
func TestAWeightInTheUnitOfThePerson(t *testing.T) {
	w := volume.Weight{Kg: 500, AsTyped: notation.Quantity{Value: 500, Unit: notation.Kilograms}, Method: "scale"}
	us := w.As(notation.Units{notation.Kilograms: notation.Pounds})
	assert.Equal(t, "1102 lb", us.Text()) // 500 / 0.45359237 (NIST SP 811, appendix B)
	assert.Equal(t, "weight 1102 lb, weighed as 500 kg, scale", us.Line())
	assert.InDelta(t, 500, us.Kg, 0)
	assert.Equal(t, "500 kg", w.As(nil).Text())
	assert.Equal(t, "weight 500 kg, scale", w.As(nil).Line())
}
