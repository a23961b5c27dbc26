package notation_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"loosebox/exam/notation"
)

// A hand is 4 inches, a foot 12 (common practice of the trade; NIST SP 811, appendix B.6,
// for the foot and the inch).
func TestLengthsAsPeopleWriteThem(t *testing.T) {
	for text, want := range map[string]float64{
		"15.2hh": 62, "15.2 hh": 62, "15.2h": 62, "15hh": 60, "15-2": 62, "15 hands 2": 62, "15 hands": 60, "15.2½hh": 62.5, "9.3 hands": 39,
		"75½in": 75.5, "75 1/2 in": 75.5, `75 1/4"`: 75.25, `75"`: 75, `6'3"`: 75, "6ft 3in": 75, "6'": 72, "6 ft 3": 75, `6'3½"`: 75.5, "75in": 75,
	} {
		q, err := notation.ParseQuantity(text)
		require.NoError(t, err, text)
		assert.Equal(t, notation.Quantity{Value: want, Unit: notation.Inch}, q, text)
	}
	for text, want := range map[string]string{
		"15.4hh": "a hand has 4 inches", "15.10hh": "unit", "6.3ft": "can be feet and inches", "6ft 13in": "a foot has 12 inches", "15 hands 5": "a hand has 4 inches",
	} {
		_, err := notation.ParseQuantity(text)
		require.ErrorAs(t, err, new(*notation.Refusal), text)
		assert.ErrorContains(t, err, want, text)
	}
	for text, want := range map[string]bool{"15.2": true, "15,3": true, "15.4": false, "15": false, "155.2": false, "3.2": false, "38.4": false} {
		_, ok := notation.BareHands(text)
		assert.Equal(t, want, ok, text)
	}
}

func TestHandsThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := notation.Quantity{Value: float64(rapid.IntRange(48, 160).Draw(t, "halves")) / 2, Unit: notation.Inch}
		text := notation.Units{notation.Inch: notation.Hands}.Height(q).Text(1)
		if back, err := notation.ParseQuantity(text); err != nil || back != q {
			t.Fatalf("%v is %q and back %v: %v", q, text, back, err)
		}
	})
}
