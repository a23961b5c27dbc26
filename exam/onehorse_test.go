package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// A chip of the older kind has letters: it is found as large and as small ones, however it
// was written, and before a longer one that holds it.
func TestAChipWithLettersIsFoundInEitherCase(t *testing.T) {
	horses := []exam.Horse{{ID: "a", Name: "Bracken", Chip: "01ab3c4d5"}, {ID: "b", Name: "Pip", Chip: "01AB3C4D5E"}, {ID: "c", Name: "Wren", Chip: "7F6E5D4C3"}}
	for text, want := range map[string]exam.HorseID{"01ab3c4d5": "a", "01AB3C4D5": "a", " 01Ab3C4d5 ": "a", "01ab3c4d5e": "b", "7f6e5d4c3": "c", "7F6E5D4C3": "c"} {
		h, err := exam.OneHorse(horses, text, "none")
		require.NoError(t, err, text)
		assert.Equal(t, want, h.ID, text)
	}
}
