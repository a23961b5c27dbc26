package weight

import (
	"fmt"

	"loosebox/exam/notation"
)

// HandsTyped is a height as it is to be read where it was typed without a unit: 15.2 is
// in hands where the person works in hands, and is asked about elsewhere. Anything else
// stays as it was typed. The error is a *notation.Refusal.
func HandsTyped(of Measure, text string, units map[notation.Unit]notation.Unit) (string, error) {
	q, can := notation.BareHands(text)
	if of != Height || !can {
		return text, nil
	}
	if units[notation.Inch] == notation.Hands {
		return q.Text(1), nil
	}
	return "", &notation.Refusal{Typed: text, Why: fmt.Sprintf("%s can be a height in hands: type %shh, or the height with cm or in", text, text)}
}
