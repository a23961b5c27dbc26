package exam

import (
	"fmt"
	"math/bits"
	"strconv"
	"strings"

	"loosebox/exam/notation"
)

// maxChipNumber is the largest number of 38 bits: ISO 11784 gives the number
// bits 27 to 64 of the 64-bit code, and the prefix bits 17 to 26.
const maxChipNumber = 1<<38 - 1

// possibleChip says what of 15 digits cannot be.
func possibleChip(chip string) error {
	number, err := strconv.ParseUint(chip[3:], 10, 64)
	switch {
	case err != nil || number > maxChipNumber:
		return &notation.Refusal{Typed: chip, Why: "the last twelve digits of a microchip number are at most 274877906943"}
	case strings.Trim(chip, chip[:1]) == "":
		return &notation.Refusal{Typed: chip, Why: "fifteen equal digits are no microchip number"}
	}
	return nil
}

// hexChip is the number that 16 hexadecimal digits stand for, and a sentence on
// how they were read; empty where they stand for none. Some readers send the 64
// bits of ISO 11784 so, the high byte first or the low one.
func hexChip(text string) (chip, how string) {
	if len(text) != chipHex {
		return "", ""
	}
	code, err := strconv.ParseUint(text, 16, 64)
	if err != nil {
		return "", ""
	}
	if chip, ok := chipOfBits(code); ok {
		how = "this is the hex form of a reader"
		if code>>63 == 0 {
			how = "this is the hex form of a reader, without the mark of an animal"
		}
		return chip, how
	}
	if chip, ok := chipOfBits(bits.ReverseBytes64(code)); ok {
		return chip, "this is the hex form of a reader, its low byte first"
	}
	return "", ""
}

// chipOfBits reads prefix and number out of the 64 bits; false where the prefix
// is none, or where bits 2 to 16 are set, which animals' chips leave empty.
func chipOfBits(code uint64) (string, bool) {
	const empty = 1<<15 - 1
	prefix, number := code>>38&(1<<10-1), code&maxChipNumber
	chip := fmt.Sprintf("%03d%012d", prefix, number)
	return chip, code>>48&empty == 0 && prefix > 0 && prefix < 999 && possibleChip(chip) == nil
}

// azertyChip is the number that a reader typed whose keys are those of another
// keyboard: without shift, the top row of a French one gives signs for digits
// (from memory).
func azertyChip(text string) (string, bool) {
	signs := strings.NewReplacer(
		"À", "0", "&", "1", "É", "2", `"`, "3", "'", "4", "(", "5", "-", "6", "È", "7", "_", "8", "Ç", "9",
	)
	chip := signs.Replace(text)
	if strings.ContainsAny(text, "0123456789") || len(chip) != chipDigits || !isDigits(chip) || possibleChip(chip) != nil {
		return "", false
	}
	return chip, true
}
