package sums

import (
	"fmt"
	"strings"

	"loosebox/exam/notation"
)

// refusing is the check of a field that is read by a reader.
func refusing[T any](read func(string) (T, error)) func(string) error {
	return func(text string) error {
		_, err := read(text)
		return err
	}
}

// readMinutes reads a time, "8h", "90min" or "1.5h", in minutes. Errors are *notation.Refusal.
func readMinutes(text string) (float64, error) {
	value, unit, err := number(text)
	if err != nil {
		return 0, err
	}
	switch unit {
	case "min", "minute", "minutes":
		return value, nil
	case "h", "hr", "hour", "hours":
		return value * 60, nil
	case "d", "day", "days":
		return value * 24 * 60, nil
	}
	return 0, &notation.Refusal{Typed: text, Why: fmt.Sprintf("%q is no time", notation.CleanLine(text, 20)), Meant: "one like 8h or 90min"}
}

// readDrops reads the drops a mL of a set: "10", "10/mL".
func readDrops(text string) (float64, error) { return counted(text, "drops a mL, 10/mL", "", "/ml") }

// readPerMinute reads drops a minute: "40", "40/min".
func readPerMinute(text string) (float64, error) {
	return counted(text, "drops a minute, 40/min", "", "/min")
}

// readRate reads mL per kg and day: "50mL/kg/day"; an hourly rate is turned into a daily one.
func readRate(text string) (float64, error) {
	value, unit, err := number(text)
	if err != nil {
		return 0, err
	}
	switch unit {
	case "ml/kg/day", "ml/kg/d", "ml/kg/24h":
		return value, nil
	case "ml/kg/h", "ml/kg/hour":
		return value * 24, nil
	}
	return 0, &notation.Refusal{
		Typed: text, Why: fmt.Sprintf("%q is no rate by weight", notation.CleanLine(text, 30)), Meant: "one like 50mL/kg/day or 2mL/kg/h",
	}
}

// readPercents reads a loss, "8%", or a band of it, "5-8%".
func readPercents(text string) (low, high float64, err error) {
	body, found := strings.CutSuffix(strings.ReplaceAll(notation.CleanLine(text, 20), " ", ""), "%")
	if !found {
		return 0, 0, &notation.Refusal{Typed: text, Why: "the loss is in % of body weight, 8% or 5-8%"}
	}
	from, to, band := strings.Cut(body, "-")
	if low, err = plain(from); err != nil {
		return 0, 0, err
	}
	if high = low; band {
		if high, err = plain(to); err != nil {
			return 0, 0, err
		}
	}
	if high < low {
		return 0, 0, &notation.Refusal{Typed: text, Why: "the lower percentage comes first, 5-8%"}
	}
	return low, high, nil
}

func counted(text, like string, units ...string) (float64, error) {
	value, unit, err := number(text)
	if err != nil {
		return 0, err
	}
	for _, u := range units {
		if unit == u {
			return value, nil
		}
	}
	return 0, &notation.Refusal{Typed: text, Why: fmt.Sprintf("%q is not in %s", notation.CleanLine(text, 20), like)}
}

// number reads the number at the head of a text, and its unit in lower case without spaces.
func number(text string) (value float64, unit string, err error) {
	clean := notation.CleanLine(text, 40)
	i := 0
	for i < len(clean) && strings.ContainsRune("0123456789.,", rune(clean[i])) {
		i++
	}
	if value, err = plain(clean[:i]); err != nil {
		return 0, "", err
	}
	return value, strings.ToLower(strings.Join(strings.Fields(clean[i:]), "")), nil
}

func plain(text string) (float64, error) {
	q, err := notation.ParseQuantity(text)
	if err != nil {
		return 0, err
	}
	if q.Unit != notation.NoUnit || q.Value < 0 {
		return 0, &notation.Refusal{Typed: text, Why: fmt.Sprintf("%q is no number above zero", notation.CleanLine(text, 20))}
	}
	return q.Value, nil
}
