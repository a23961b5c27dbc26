package settings

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/exam/procedure"
)

func (s *screen) person() *written {
	name := notation.CleanLine(s.now.Person, maxName)
	shown := name
	if shown == "" {
		shown = "nobody yet"
	}
	return &written{text: name, shown: shown, hint: nameHint, most: maxName, check: func(text string) error {
		if text != "" && !notation.IsName(text) {
			return errors.New("a name holds a letter")
		}
		return nil
	}}
}

// Bounds of a practice's own numbers, as exam/procedure takes them.
const (
	mostSiteML  = 100
	mostMinutes = 24 * 60

	unitML, unitMin = "ml", "min" // may stand behind the number
)

// siteLimit is the volume into one muscle from which a question is asked.
func (s *screen) siteLimit() *written {
	own := procedure.RulesOf(s.now)
	limit := own.SiteLimit()
	w := &written{
		most:  12,
		hint:  "above this volume the program asks; no agreed number; empty: " + limit.Source + ". Label and veterinarian decide",
		shown: fmt.Sprintf("not set (asks above %s mL; %s)", notation.FormatNumber(limit.ML, 1), limit.Source),
		check: func(text string) error { return checkNumber(text, unitML, mostSiteML, false) },
	}
	if own.SiteML > 0 {
		w.text = notation.FormatNumber(own.SiteML, 1)
		w.shown = w.text + " mL, the practice's own"
	}
	return w
}

// watch is how long a horse is watched after an injection.
func (s *screen) watch() *written {
	own := procedure.RulesOf(s.now)
	w := &written{
		most:  12,
		hint:  "observation after an injection; 15 to 30 min are common practice (from memory); empty: none starts by itself",
		shown: "not set; no observation starts by itself",
		check: func(text string) error { return checkNumber(text, unitMin, mostMinutes, true) },
	}
	if own.WatchMinutes > 0 {
		w.text = strconv.Itoa(own.WatchMinutes)
		w.shown = w.text + " min, the practice's own"
	}
	return w
}

// readNumber reads a number with or without its unit; an empty text is none.
func readNumber(text, unit string) (v float64, ok bool) {
	text = strings.ToLower(strings.ReplaceAll(strings.TrimSpace(text), ",", "."))
	text = strings.TrimSpace(strings.TrimSuffix(text, unit))
	if text == "" {
		return 0, true
	}
	if strings.Trim(text, "0123456789.") != "" { // plain digits only: no exponent, no sign
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, err == nil
}

func checkNumber(text, unit string, most float64, whole bool) error {
	v, ok := readNumber(text, unit)
	switch {
	case !ok:
		return &notation.Refusal{Typed: text, Why: "type a number, or nothing"}
	case strings.Trim(text, " ") != "" && v <= 0:
		return &notation.Refusal{Typed: text, Why: "type a number above 0, or nothing"}
	case v > most:
		return &notation.Refusal{Typed: text, Why: fmt.Sprintf("at most %.0f", most)}
	case whole && v != math.Trunc(v):
		return &notation.Refusal{Typed: text, Why: "type whole minutes"}
	}
	return nil
}

// putNumber writes a number that passed its check.
func putNumber(unit string, put func(*exam.Settings, float64)) func(*exam.Settings, string) {
	return func(n *exam.Settings, text string) {
		v, _ := readNumber(text, unit) // it passed its check
		put(n, v)
	}
}
