package exam_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
)

// The forms in which readers and people write one number. The hex forms follow
// from the bits of ISO 11784: 1 animal, 17-26 prefix, 27-64 number.
func TestAChipIsReadInTheFormsOfReaders(t *testing.T) {
	for _, text := range []string{
		"985141000123456", "985 141 000123456", "985.141.000.123.456", "985-141000123456",
		"\x02985141000123456\x03", "LA 985 141000123456", "LA 00000 0 985 141000123456\r\n",
		"985141000123456985141000123456", "985141000123456\t",
	} {
		chip, err := exam.ReadChip(text)
		require.NoError(t, err, "%q", text)
		assert.Equal(t, "985141000123456", chip, "%q", text)
	}
}

func TestWhatMeansAChipIsRefusedWithTheNumber(t *testing.T) {
	for text, why := range map[string]string{
		"8000F660D4432440": "hex form of a reader;",
		"402443D460F60080": "its low byte first;",
		"0000f660d4432440": "without the mark of an animal;",
		`ç_(&'&ààà&é"'(-`:  "another keyboard layout;",
	} {
		_, err := exam.ReadChip(text)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), why, text)
		assert.Contains(t, err.Error(), "did you mean 985141000123456?", text)
	}
}

func TestWhatIsNoChipSaysWhy(t *testing.T) {
	for text, why := range map[string]string{
		"98514100012345":                 "this has 14 characters",
		"98514100O123456":                `"O" is none`,
		"985300000000000":                "at most 274877906943",
		"111111111111111":                "equal digits",
		"LR 0006 0000000018514348":       "industrial tag",
		"9.85141E+14":                    "spreadsheet",
		"985141000123456985141000123457": "two microchip numbers",
		"FFFFFFFFFFFFFFFF":               "16 characters",
	} {
		chip, err := exam.ReadChip(text)
		require.Error(t, err, text)
		assert.Contains(t, err.Error(), why, text)
		assert.NotContains(t, err.Error(), "did you mean", text)
		assert.Empty(t, chip, text)
	}
}

// Chips that should not be are found in horses all the same.
func TestAChipThatShouldNotBeIsKeptWithAWarning(t *testing.T) {
	for _, text := range []string{"999000000012345", "000123456789012"} {
		chip, err := exam.ReadChip(text)
		require.NoError(t, err, text)
		assert.Equal(t, text, chip)
		assert.NotEmpty(t, exam.ChipWarning(chip), text)
	}
	for _, chip := range []string{"985141000123456", "001000000012345", "1234567890", ""} {
		assert.Empty(t, exam.ChipWarning(chip), chip)
	}
}
