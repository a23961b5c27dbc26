package order

import (
	"strings"

	"loosebox/exam/notation"
	"loosebox/exam/volume"
)

// ML reads millilitres where nothing else can be meant: "22", "22 mL", "0".
func ML(text string) (float64, error) {
	clean := strings.TrimSpace(notation.CleanLine(text, 40))
	if clean != "" && strings.Trim(clean, "0123456789.,") == "" {
		clean += " mL"
	}
	return volume.ParseML(clean)
}

// Above is a check of an amount in mL that refuses 0 with a sentence.
func Above(nothing string) func(string) error {
	return func(text string) error {
		ml, err := ML(text)
		if err == nil && ml <= 0 {
			return &notation.Refusal{Typed: notation.CleanLine(text, 40), Why: nothing}
		}
		return err
	}
}

// CheckAmount refuses what is no amount; "not known" is one.
func CheckAmount(text string) error {
	if text == NotKnown {
		return nil
	}
	_, err := ML(text)
	return err
}

// ReadAmount is an amount that CheckAmount took.
func ReadAmount(text string) (ml float64, known bool) {
	if text == NotKnown {
		return 0, false
	}
	ml, err := ML(text)
	return ml, err == nil
}

// NotKnown is what is typed where nobody can say how much.
const NotKnown = "not known"
