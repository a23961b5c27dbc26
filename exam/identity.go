package exam

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// maxChipNumber is the largest national number of 38 bits: ISO 11784 gives the
// number bits 27 to 64 of the 64-bit code.
const maxChipNumber = 1<<38 - 1

// ReadChip checks a microchip number and returns its 15 digits; an empty text
// is no chip. ISO 11784: a three-digit country (001-899, ISO 3166) or maker
// (900-998) prefix and twelve digits up to 274877906943. The number has no
// check digit, so a digit typed wrong can pass. A chip of 9 or 10 characters is
// an older kind and is kept as it is.
func ReadChip(text string) (string, error) {
	chip := strings.ToUpper(strings.NewReplacer(" ", "", "-", "", ".", "").Replace(CleanLine(text, 40)))
	if chip == "" {
		return "", nil
	}
	if len(chip) == 9 || len(chip) == 10 {
		return chip, nil
	}
	if len(chip) != 15 || strings.Trim(chip, "0123456789") != "" {
		return "", &Refusal{Typed: chip, Why: fmt.Sprintf("a microchip number has 15 digits, this has %d characters", len(chip))}
	}
	prefix, err := strconv.Atoi(chip[:3])
	if err != nil || prefix == 0 {
		return "", &Refusal{Typed: chip, Why: "a microchip number does not begin with 000"}
	}
	if prefix == 999 {
		return "", &Refusal{Typed: chip, Why: "999 at the beginning marks a test chip, not an animal's"}
	}
	number, err := strconv.ParseUint(chip[3:], 10, 64)
	if err != nil || number > maxChipNumber {
		return "", &Refusal{Typed: chip, Why: "the last twelve digits of a microchip number are at most 274877906943"}
	}
	if strings.Trim(chip, chip[:1]) == "" {
		return "", &Refusal{Typed: chip, Why: "fifteen equal digits are no microchip number"}
	}
	return chip, nil
}

// ReadUELN checks a Universal Equine Life Number and returns its 15 characters;
// an empty text is none. Three digits of country, three of data base, nine of
// the animal; the last twelve may hold letters.
func ReadUELN(text string) (string, error) {
	n := strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "/", "", ".", "").Replace(CleanLine(text, 40)))
	if n == "" {
		return "", nil
	}
	if len(n) != 15 {
		return "", &Refusal{Typed: n, Why: fmt.Sprintf("a UELN has 15 characters, this has %d", len(n))}
	}
	for i, c := range n {
		digit := c >= '0' && c <= '9'
		letter := c >= 'A' && c <= 'Z'
		if !digit && (i < 3 || !letter) {
			return "", &Refusal{Typed: n, Why: "a UELN is three digits, then twelve digits or letters"}
		}
	}
	return n, nil
}

// ReadBirth reads a birth date as people know it: "2019", "2019-05",
// "2019-05-04", "2019-05-04 03:20", "about 2008", "foal", "adult", "".
func ReadBirth(text, basis string) (Birth, error) {
	clean := strings.ToLower(CleanLine(text, 40))
	basis = CleanLine(basis, 40)
	switch clean {
	case "":
		return Birth{Precision: BornUnknown, Basis: basis}, nil
	case "foal", string(BornFoal):
		return Birth{Precision: BornFoal, Basis: basis}, nil
	case "adult":
		return Birth{Precision: BornAdult, Basis: basis}, nil
	}
	date, about := strings.CutPrefix(clean, "about ")
	forms := []struct {
		layout    string
		precision Precision
	}{
		{"2006-01-02 15:04", BornMinute},
		{"2006-01-02t15:04", BornMinute},
		{"2006-01-02", BornDay},
		{"2006-01", BornMonth},
		{"2006", BornYear},
	}
	for _, f := range forms {
		at, err := parseLocal(f.layout, date)
		if err != nil {
			continue
		}
		if about {
			f.precision = BornEstimated
		}
		return Birth{At: at, Precision: f.precision, Basis: basis}, nil
	}
	return Birth{}, &Refusal{Typed: clean, Why: "write a birth date as 2019-05-04, 2019-05, 2019, about 2019, or foal or adult where no more is known"}
}

func parseLocal(layout, text string) (time.Time, error) {
	return time.ParseInLocation(layout, text, time.Local)
}
