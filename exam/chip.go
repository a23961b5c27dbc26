package exam

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
)

// Lengths of chip numbers, in characters.
const (
	chipDigits = 15 // ISO 11784, in decimal
	chipHex    = 16 // the same 64 bits in hexadecimal
	maxChip    = 80 // of a line that a reader types, with what stands beside the number
)

// ReadChip checks a microchip number and returns its 15 digits; an empty text is no chip. ISO 11784: a
// three-digit prefix and twelve digits up to 274877906943. The number has no check digit, so a digit typed
// wrong can pass. A chip of 9 or 10 characters is an older kind and is kept as it is.
//
// Spaces, hyphens and dots between the digits are left out, and so is what a reader may send with them: STX and
// ETX, the letters LA with its counters before the number, the same number twice. What is no number, but means
// one, is refused with the number that is meant.
func ReadChip(text string) (string, error) {
	line := strings.ToUpper(notation.CleanLine(strings.Map(unframed, text), maxChip))
	chip := joined(line)
	switch {
	case chip == "":
		return "", nil
	case len(chip) == 2*chipDigits && chip[:chipDigits] == chip[chipDigits:]:
		chip = chip[:chipDigits] // scanned twice
	case strings.HasPrefix(line, "LA ") && len(chip) >= 2+chipDigits && isDigits(chip[2:]):
		chip = chip[len(chip)-chipDigits:]
	}
	switch older := len(chip) == 9 || len(chip) == 10; {
	case older && !strings.Contains(chip, "E+"):
		return chip, nil
	case len(chip) != chipDigits || !isDigits(chip):
		return "", notChip(line, chip)
	}
	if err := possibleChip(chip); err != nil {
		return "", err
	}
	return chip, nil
}

// unframed drops the control characters with which readers frame a number.
func unframed(r rune) rune {
	if r == '\x02' || r == '\x03' {
		return -1
	}
	return r
}

func joined(text string) string { return strings.NewReplacer(" ", "", "-", "", ".", "").Replace(text) }

func isDigits(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// notChip says why a text is no chip number, and which number it means.
func notChip(line, chip string) error {
	no := &notation.Refusal{Typed: chip, Why: fmt.Sprintf("a microchip number has 15 digits, this has %d characters", len([]rune(chip)))}
	meant, fromHex := hexChip(chip)
	keys, fromKeys := azertyChip(line)
	switch {
	case fromHex != "":
		no.Why, no.Meant = fromHex, meant
	case fromKeys:
		no.Why, no.Meant = "the reader types for another keyboard layout", keys
	case strings.HasPrefix(line, "LR "):
		no.Why = "the reader says LR: that is an industrial tag, not an animal's"
	case strings.Contains(line, "E+"):
		no.Why = "a spreadsheet destroyed the digits: set the column to text"
	case len(chip) == 2*chipDigits && isDigits(chip):
		no.Why = "these are two microchip numbers: type one"
	case len(chip) == chipDigits:
		no.Why = fmt.Sprintf("a microchip number is digits alone, and %q is none", strings.Trim(chip, "0123456789"))
	}
	return no
}

// ChipWarning is a sentence about a chip number that can be kept, but is not as
// it should be; empty for any other. Such chips are found in animals: the
// registration authority lists 000 and 999 among the misuses (ICAR, read).
func ChipWarning(chip string) string {
	switch {
	case len(chip) != chipDigits:
		return ""
	case strings.HasPrefix(chip, "000"):
		return "no country and no maker has a number that begins with 000"
	case strings.HasPrefix(chip, "999"):
		return "999 at the beginning marks a test chip, not an animal's"
	}
	return ""
}
