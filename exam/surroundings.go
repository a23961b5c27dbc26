package exam

import (
	"fmt"
	"strconv"
	"strings"

	"loosebox/exam/notation"
)

// ReadAir reads an air or wet-bulb globe temperature, "31C" or "88 F"; a bare
// number is taken in the preferred unit, and refused where none is preferred. An
// empty text is no temperature. The error is a *notation.Refusal.
func ReadAir(text string, prefer notation.Unit) (*notation.Quantity, error) {
	if strings.TrimSpace(text) == "" {
		return nil, nil
	}
	q, err := notation.ParseQuantity(text)
	if err != nil {
		return nil, err
	}
	if q.Unit == notation.NoUnit {
		if prefer == notation.NoUnit {
			n := notation.FormatNumber(q.Value, 1)
			return nil, &notation.Refusal{Typed: notation.CleanLine(text, 20), Why: n + " has no unit", Meant: n + "C or " + n + "F"}
		}
		q.Unit = prefer
	}
	c, ok := q.In(notation.Celsius)
	switch {
	case !ok:
		return nil, &notation.Refusal{Typed: notation.CleanLine(text, 20), Why: "a temperature of the air is in C or F"}
	case c.Value < -50 || c.Value > 60:
		return nil, &notation.Refusal{Typed: notation.CleanLine(text, 20), Why: fmt.Sprintf("%s is no temperature of the air", q.Text(1))}
	}
	return &q, nil
}

// ReadHumidity reads a relative humidity in percent, "65" or "65 %". An empty text
// is none. The error is a *notation.Refusal.
func ReadHumidity(text string) (*float64, error) {
	clean := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%"))
	if clean == "" {
		return nil, nil
	}
	v, err := strconv.ParseFloat(strings.Replace(clean, ",", ".", 1), 64)
	if err != nil || !(v >= 0 && v <= 100) {
		return nil, &notation.Refusal{Typed: notation.CleanLine(text, 20), Why: "the relative humidity is a number from 0 to 100, in %"}
	}
	return &v, nil
}

// Empty says that nothing of the context was asked or measured.
func (c Context) Empty() bool {
	return len(c.States) == 0 && c.Air == nil && c.Humid == nil && c.Globe == nil && c.Note == "" &&
		len(c.Medicines) == 0 && c.Given == ""
}
